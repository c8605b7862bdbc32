//! One number of a text printed wrong: a digit one higher or lower, or two digits beside each other exchanged.

/// A text with one wrong number.
pub(crate) struct Misprint {
    /// Where the number stands.
    pub(crate) at: usize,
    /// The whole text with it.
    pub(crate) text: String,
    was: f64,
    is: f64,
}

impl Misprint {
    /// True where the number is one higher.
    pub(crate) fn is_one_more(&self) -> bool {
        (self.is - self.was - 1.0).abs() < 0.5
    }

    /// True where the number is another by a tenth at the least.
    pub(crate) fn is_large(&self) -> bool {
        (self.is - self.was).abs() >= 0.1 * self.was
    }
}

/// Every number of the text with each of its misprints.
pub(crate) fn misprints(print: &str) -> Vec<Misprint> {
    let mut out = Vec::new();
    for (from, to) in figures(print) {
        for wrong in spoilt(&print[from..to]) {
            let text = format!("{}{wrong}{}", &print[..from], &print[to..]);
            let number = |digits: &str| digits.parse().unwrap();
            out.push(Misprint {
                at: from,
                text,
                was: number(&print[from..to]),
                is: number(&wrong),
            });
        }
    }
    out
}

/// Runs of digits with their places; more than three are no number of a pattern.
fn figures(text: &str) -> Vec<(usize, usize)> {
    let bytes = text.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let starts = (0..bytes.len()).filter(|&at| digit(at) && (at == 0 || !digit(at - 1)));
    starts
        .map(|at| (at, (at..=bytes.len()).find(|&end| !digit(end)).unwrap()))
        .filter(|(from, to)| to - from <= 3)
        .collect()
}

/// The ways in which a number is printed wrong; none of them begins with a nought.
fn spoilt(number: &str) -> Vec<String> {
    let digits: Vec<u8> = number.bytes().map(|digit| digit - b'0').collect();
    let mut all: Vec<Vec<u8>> = Vec::new();
    for at in 0..digits.len() {
        let with = |digit: u8| {
            let mut wrong = digits.clone();
            wrong[at] = digit;
            wrong
        };
        if digits[at] < 9 {
            all.push(with(digits[at] + 1));
        }
        if digits[at] > 0 {
            all.push(with(digits[at] - 1));
        }
        if at > 0 && digits[at] != digits[at - 1] {
            let mut wrong = digits.clone();
            wrong.swap(at, at - 1);
            all.push(wrong);
        }
    }
    all.retain(|wrong| wrong[0] != 0);
    let print = |wrong: Vec<u8>| wrong.iter().map(|digit| char::from(b'0' + digit)).collect();
    all.into_iter().map(print).collect()
}
