//! How a pattern lists the numbers of its sizes: `60 (64, 68)`, `67 [71:77]`, `41 (46, 46) (54, 56)`, `60/64/68`.

/// Stands in the place of a size that has nothing there (common practice, no source).
pub(crate) const DASH: &str = "\u{2013}";

/// The brackets and separators of a size set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notation {
    /// What stands between the first number and the first bracket.
    gap: String,
    separator: String,
    /// The pairs of brackets, in order.
    groups: Vec<Brackets>,
    /// True when there are no brackets, the separator alone.
    bare: bool,
}

/// One pair of brackets: a second one may be of the other kind, `60 (64, 68) [72, 76]`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Brackets {
    open: char,
    close: char,
    /// How many numbers stand in it.
    numbers: usize,
}

impl Notation {
    /// `60 (64, 68)`: the most common one (common practice, no source).
    pub fn usual(sizes: usize) -> Self {
        Self {
            gap: " ".to_owned(),
            separator: ", ".to_owned(),
            groups: vec![Brackets {
                open: '(',
                close: ')',
                numbers: sizes.saturating_sub(1),
            }],
            bare: false,
        }
    }

    /// The notation of the first list in a text that has a number for each of so many sizes; the
    /// usual one when there is none.
    pub fn of(text: &str, sizes: usize) -> Self {
        let mut from = 0;
        while let Some(at) = text.get(from..).and_then(|rest| rest.find(['(', '['])) {
            let at = from + at;
            // Brackets of another kind behind the first may be the list's, or of something else.
            let both = [true, false].map(|mixed| read(text, at, mixed));
            let mut fitting = both.into_iter().flatten();
            if let Some(found) = fitting.find(|found| found.sizes() == sizes) {
                return found;
            }
            from = at + 1;
        }
        bare(text, sizes).unwrap_or_else(|| Self::usual(sizes))
    }

    /// The same brackets for some of the sizes, by their places in order.
    pub(crate) fn of_some(&self, sizes: &[usize]) -> Self {
        let mut ends = Vec::new();
        let mut end = 1;
        for group in &self.groups {
            end += group.numbers;
            ends.push(end);
        }
        let group_of = |size: &usize| ends.iter().position(|end| size < end);
        let others: Vec<usize> = sizes.iter().skip(1).filter_map(group_of).collect();
        let some = others.chunk_by(|a, b| a == b).filter_map(|some| {
            let group = self.groups.get(*some.first()?)?;
            Some(Brackets {
                numbers: some.len(),
                ..*group
            })
        });
        Self {
            groups: some.collect(),
            ..self.clone()
        }
    }

    /// The names of sizes as their numbers are listed; with strokes where a name has signs of the list in it.
    pub(crate) fn names(&self, names: &[&str]) -> String {
        let signs = ['(', ')', '[', ']', ',', ':', ';', '/'];
        if names.iter().any(|name| name.contains(signs)) {
            names.join(" / ")
        } else {
            self.list(names)
        }
    }

    /// What stands in the place of a size that has nothing there: where dashes part the numbers, a nought.
    pub(crate) fn nothing(&self) -> &'static str {
        if self.separator.contains(['-', '\u{2013}']) {
            "0"
        } else {
            DASH
        }
    }

    fn sizes(&self) -> usize {
        1 + self.groups.iter().map(|group| group.numbers).sum::<usize>()
    }

    /// The numbers, or whatever they are, of all sizes as the pattern would list them; a single one
    /// when all are the same.
    pub fn list<T: ToString + PartialEq>(&self, values: &[T]) -> String {
        let Some((first, rest)) = values.split_first() else {
            return String::new();
        };
        let mut out = first.to_string();
        if rest.iter().all(|value| value == first) {
            return out;
        }
        if self.bare {
            let all: Vec<String> = values.iter().map(ToString::to_string).collect();
            return all.join(&self.separator);
        }
        let mut rest = rest.iter().map(ToString::to_string);
        for (
            i,
            Brackets {
                open,
                close,
                numbers,
            },
        ) in self.groups.iter().enumerate()
        {
            let group: Vec<String> = rest.by_ref().take(*numbers).collect();
            if group.is_empty() {
                break;
            }
            out.push_str(if i == 0 { &self.gap } else { " " });
            out.push(*open);
            out.push_str(&group.join(&self.separator));
            out.push(*close);
        }
        out
    }
}

/// The list whose first bracket stands here; `None` when a number is missing before it or within.
fn read(text: &str, at: usize, mixed: bool) -> Option<Notation> {
    let before = text.get(..at)?;
    let number = before.trim_end_matches([' ', '\u{a0}']);
    if !number.ends_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let mut rest = text.get(at..)?;
    let first = rest.chars().next()?;
    let mut groups = Vec::new();
    let mut separator = None;
    while let Some(open) = rest.chars().next().filter(|c| matches!(c, '(' | '[')) {
        if open != first && !mixed {
            break;
        }
        let close = if open == '(' { ')' } else { ']' };
        let (inside, after) = rest.get(1..)?.split_once(close)?;
        let mark = inside
            .find([',', ':', ';', '/'])
            .and_then(|at| inside.get(at..));
        let mark = mark.and_then(|mark| mark.chars().next());
        let numbers = inside.split(|c| Some(c) == mark);
        let numbers: Vec<&str> = numbers.map(str::trim).collect();
        if numbers.iter().any(|n| n.parse::<f64>().is_err()) {
            return None;
        }
        groups.push(Brackets {
            open,
            close,
            numbers: numbers.len(),
        });
        if let (None, Some(mark)) = (&separator, mark) {
            let spaced = inside.contains(&format!("{mark} "));
            separator = Some(if spaced {
                format!("{mark} ")
            } else {
                mark.to_string()
            });
        }
        rest = after.trim_start_matches([' ', '\u{a0}']);
    }
    Some(Notation {
        gap: before.get(number.len()..)?.to_owned(),
        separator: separator.unwrap_or_else(|| ", ".to_owned()),
        groups,
        bare: false,
    })
}

/// A list without brackets: `60/64/68`, `60-64-68`. Two numbers with a dash are a range, no list.
fn bare(text: &str, sizes: usize) -> Option<Notation> {
    let marks = [('/', 2), ('-', 3), ('\u{2013}', 3)];
    let (mark, _) = marks.into_iter().find(|&(mark, least)| {
        let other = |c: char| !(c.is_ascii_digit() || c == mark);
        let lists = text
            .split(other)
            .map(|list| list.split(mark).collect::<Vec<_>>());
        sizes >= least
            && lists
                .into_iter()
                .any(|list| list.len() == sizes && list.iter().all(|n| !n.is_empty()))
    })?;
    Some(Notation {
        separator: mark.to_string(),
        bare: true,
        ..Notation::usual(sizes)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each list comes back as it was written, with other numbers in it.
    #[test]
    fn lists_come_back_in_their_own_notation() {
        for (text, wanted) in [
            ("Bind off 5 (6, 7) sts.", "1 (2, 3)"),
            ("Cast off 5 [6:7] sts (twice).", "1 [2:3]"),
            ("Knit row 2 (RS), dec 5(6:7) sts", "1(2:3)"),
            ("CO 5 (6; 7)", "1 (2; 3)"),
            ("Bind off 5 (6) (7) sts", "1 (2) (3)"),
            ("Bind off 1 st (3 times), then 5 [6, 7] sts", "1 [2, 3]"),
            ("Bind off 5 sts.", "1 (2, 3)"),
            ("", "1 (2, 3)"),
            ("5 (6, 7", "1 (2, 3)"),
            ("Cast off 4/4/5 sts", "1/2/3"),
            ("Cast off 4-4-5 sts, 3-4 times", "1-2-3"),
            ("Cast off 4-5 sts, 1/2", "1 (2, 3)"),
        ] {
            assert_eq!(Notation::of(text, 3).list(&[1, 2, 3]), wanted, "{text}");
        }
        let grouped = Notation::of("41 (46, 46) (54, 56) sts", 5);
        assert_eq!(grouped.list(&[1, 2, 3, 4, 5]), "1 (2, 3) (4, 5)");
        assert_eq!(grouped.list(&[2, 2, 2, 2, 2]), "2");
        let mixed = Notation::of("Bind off 4 (5, 6) [9, 10] sts", 5);
        assert_eq!(mixed.list(&[1, 2, 3, 4, 5]), "1 (2, 3) [4, 5]");
        assert_eq!(mixed.of_some(&[0, 1, 4]).list(&[1, 2, 5]), "1 (2) [5]");
        assert_eq!(mixed.of_some(&[0, 3, 4]).list(&[1, 4, 5]), "1 [4, 5]");
        for text in ["Work 5 (6, 7) [8, 9, 10] cm", "Bind off 5 (6, 7) [2 times]"] {
            assert_eq!(Notation::of(text, 3).list(&[1, 2, 3]), "1 (2, 3)", "{text}");
        }
        let names = |sizes: &[usize]| {
            let names = ["XS", "S", "M", "L", "XL"];
            let names: Vec<&str> = sizes.iter().map(|size| names[*size]).collect();
            grouped.of_some(sizes).names(&names)
        };
        assert_eq!(names(&[0, 1, 2, 3, 4]), "XS (S, M) (L, XL)");
        assert_eq!(names(&[0, 2, 4]), "XS (M) (XL)");
        assert_eq!(names(&[1, 3, 4]), "S (L, XL)");
        assert_eq!(names(&[2]), "M");
        assert_eq!(grouped.names(&["M (38)", "L"]), "M (38) / L");
        assert_eq!(Notation::usual(1).list(&[8]), "8");
        assert_eq!(Notation::usual(3).list::<u8>(&[]), "");
    }
}
