//! Stripes: colours and their rows, from the hem up, as they hang.

/// Rows of one colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stripe {
    /// What the colour is called.
    pub colour: String,
    /// Rows of it, at least one.
    pub rows: u32,
}

/// Stripes one above the other, from the hem up, and from the beginning again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stripes {
    /// At least one.
    pub stripes: Vec<Stripe>,
}

impl Stripes {
    /// Rows until they begin again.
    pub fn period(&self) -> u32 {
        self.stripes
            .iter()
            .map(|stripe| stripe.rows)
            .sum::<u32>()
            .max(1)
    }

    /// The stripe on this row of the sequence, which goes round, and the row within it; both from 0.
    pub fn at(&self, row: i64) -> (usize, u32) {
        let mut left = u32::try_from(row.rem_euclid(i64::from(self.period()))).unwrap_or(0);
        for (index, stripe) in self.stripes.iter().enumerate() {
            if left < stripe.rows {
                return (index, left);
            }
            left -= stripe.rows;
        }
        (0, 0)
    }

    /// The colour of this row of the sequence.
    pub fn colour(&self, row: i64) -> &str {
        let (index, _) = self.at(row);
        self.stripes.get(index).map_or("", |stripe| &stripe.colour)
    }

    /// The colours, each once, in the order they come.
    pub fn colours(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        for stripe in &self.stripes {
            if !all.contains(&stripe.colour.as_str()) {
                all.push(&stripe.colour);
            }
        }
        all
    }

    /// True when a change of colour finds its yarn at the other end of a row worked back and forth.
    pub fn has_odd(&self) -> bool {
        self.stripes.len() > 1
            && self
                .stripes
                .iter()
                .any(|stripe| !stripe.rows.is_multiple_of(2))
    }
}

/// The stripes of a garment.
#[derive(Clone, Debug, PartialEq)]
pub struct Striped {
    /// The body's.
    pub body: Stripes,
    /// The sleeve's.
    pub sleeve: Stripes,
    /// The row of the body's stripes, from 0, that its first row above the underarm line is.
    pub armhole_row: u32,
    /// The row of the sleeve's stripes, from 0, that row 1 of the cap is; left out, the one that matches best.
    pub first_row: Option<u32>,
    /// Where they should match: share of the armhole's height above the underarm.
    pub match_at: f64,
}

impl Striped {
    /// By how many rows the sleeve's stripe lies too high beside this row of the body; `None` where its
    /// colour never comes. Of equal sequences it is the shift of one against the other.
    pub fn off(&self, sleeve: i64, body: i64) -> Option<i64> {
        let period = i64::from(self.sleeve.period());
        let least = |rows: i64| {
            if 2 * rows > period {
                rows - period
            } else {
                rows
            }
        };
        if self.sleeve == self.body {
            return Some(least((body - sleeve).rem_euclid(period)));
        }
        let wanted = self.body.colour(body);
        let shifts = (0..period).filter(|shift| self.sleeve.colour(sleeve + shift) == wanted);
        shifts.map(least).min_by_key(|shift| (shift.abs(), *shift))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stripes(list: &[(&str, u32)]) -> Stripes {
        let stripe = |(colour, rows): &(&str, u32)| Stripe {
            colour: (*colour).to_owned(),
            rows: *rows,
        };
        Stripes {
            stripes: list.iter().map(stripe).collect(),
        }
    }

    #[test]
    fn rows_go_round_both_ways() {
        let two = stripes(&[("navy", 4), ("cream", 2)]);
        let colours: Vec<&str> = (-2..8).map(|row| two.colour(row)).collect();
        assert_eq!(
            colours.join(" "),
            "cream cream navy navy navy navy cream cream navy navy"
        );
        assert_eq!(two.at(5), (1, 1));
        assert!(!two.has_odd() && stripes(&[("a", 3), ("b", 1)]).has_odd());
    }

    /// By hand: a sleeve that is on navy's second row where the body is on its fourth has to be two rows lower.
    #[test]
    fn what_is_off_is_counted_in_rows() {
        let two = stripes(&[("navy", 4), ("cream", 2)]);
        let mut striped = Striped {
            body: two.clone(),
            sleeve: two,
            armhole_row: 0,
            first_row: None,
            match_at: 0.5,
        };
        assert_eq!(striped.off(1, 3), Some(2));
        assert_eq!(striped.off(0, 5), Some(-1));
        assert_eq!(striped.off(7, 1), Some(0));
        striped.body = stripes(&[("rust", 2), ("navy", 2)]);
        assert_eq!(striped.off(0, 2), Some(0));
        assert_eq!(striped.off(4, 3), Some(-1));
        assert_eq!(striped.off(0, 0), None);
    }
}
