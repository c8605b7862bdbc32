//! Every path of the questions of `new` comes to an end, and good answers make a case that can be
//! read.

use std::cell::RefCell;
use std::io::{self, BufRead, Read, Write};
use std::path::Path;
use std::rc::Rc;

use super::args::NewArgs;
use super::new::new;
use crate::case::read_case;

/// What has been asked; written by `new`, read by whoever answers.
#[derive(Clone, Default)]
struct Transcript(Rc<RefCell<Vec<u8>>>);

impl Write for Transcript {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Somebody who answers each question as a rule says, so often at most.
struct Answers<F> {
    asked: Transcript,
    rule: F,
    line: Vec<u8>,
    left: usize,
}

impl<F: FnMut(&str) -> String> BufRead for Answers<F> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.line.is_empty() && self.left > 0 {
            self.left -= 1;
            // On a terminal the answer ends the line of the question.
            let _ = self.asked.write(b"\n");
            let asked = self.asked.0.borrow();
            let asked = String::from_utf8_lossy(&asked);
            let question = asked.lines().rfind(|line| !line.is_empty());
            let question = question.unwrap_or_default();
            self.line = ((self.rule)(question) + "\n").into_bytes();
        }
        Ok(&self.line)
    }

    fn consume(&mut self, used: usize) {
        self.line.drain(..used);
    }
}

impl<F: FnMut(&str) -> String> Read for Answers<F> {
    fn read(&mut self, out: &mut [u8]) -> io::Result<usize> {
        let taken = self.fill_buf()?.read(out)?;
        self.consume(taken);
        Ok(taken)
    }
}

/// Lets `new` ask; returns what it said and whether all answers were used up.
fn asked(file: &Path, rule: impl FnMut(&str) -> String) -> (String, bool) {
    let asked = Transcript::default();
    let mut answers = Answers {
        asked: asked.clone(),
        rule,
        line: Vec::new(),
        left: 600,
    };
    let args = NewArgs {
        file: Some(file.to_owned()),
        from: None,
        set: Vec::new(),
        format: crate::cli::args::Format::Text,
        garment: None,
        sleeve: None,
    };
    let outcome = new(&args, &mut answers, &mut asked.clone());
    let text = String::from_utf8_lossy(&asked.0.borrow()).into_owned();
    (text + &outcome.err + &outcome.out, answers.left == 0)
}

const CAP: &[&str] = &[
    "Bind off 5 sts at the beginning of the next 2 rows (64 sts).",
    "Decrease 1 st each end of the next 3 rows, then every other row 13 times, then the next 3 rows (26 sts).",
    "Bind off 3 sts at the beginning of the next 4 rows.",
    "Bind off the remaining 14 sts.",
];

const ARMHOLE: &[&str] = &[
    "Bind off 4 sts at the beginning of the next 2 rows.",
    "Decrease 1 st each end of every other row 3 times (86 sts).",
    "Work 46 rows even.",
    "Bind off 28 sts at the beginning of the next 2 rows.",
    "Bind off the remaining 30 sts.",
];

/// The choices of one path, taken in the order in which they come up.
#[derive(Default)]
struct AnswerPath {
    /// What is taken at each fork, and of how many.
    forks: Vec<(usize, usize)>,
    at: usize,
    lines: usize,
}

impl AnswerPath {
    fn fork(&mut self, words: &[&str]) -> String {
        if self.forks.len() == self.at {
            self.forks.push((0, words.len()));
        }
        let taken = self.forks[self.at].0;
        self.at += 1;
        words[taken].to_owned()
    }

    fn answer(&mut self, question: &str) -> String {
        let forks: &[(&str, &[&str])] = &[
            ("Have you a swatch", &["no", "yes"]),
            ("Is the armhole given", &["measures", "lines", "counts"]),
            ("Do the front and back", &["no", "yes"]),
            ("Do saddle stitches", &["no", "yes"]),
            ("Is the wearer known", &["none", "size", "bust", "arm"]),
        ];
        if let Some((_, words)) = forks.iter().find(|(start, _)| question.starts_with(start)) {
            return self.fork(words);
        }
        if question.contains("paste them") {
            let lines = if question.starts_with("Cap") {
                CAP
            } else {
                ARMHOLE
            };
            let line = lines.get(self.lines).copied().unwrap_or_default();
            self.lines = if line.is_empty() { 0 } else { self.lines + 1 };
            return line.to_owned();
        }
        let answers: &[(&str, &str)] = &[
            ("Stitches (gauge", "22"),
            ("Rows (gauge", "30"),
            ("Stitches before the cap", "74"),
            ("Stitches before the armhole", "100"),
            ("Stitches at the cuff", "46"),
            ("Sleeve length", "44"),
            ("Rows counted", "56"),
            ("Stitches of the underarm", "4"),
            ("Armhole edge", "20.8"),
            ("Underarm", "1.9"),
            ("Armhole depth", "19"),
            ("Size in the table", "M"),
            ("Bust or chest", "91"),
            ("Upper arm, measured", "29"),
        ];
        // An empty answer takes what stands in brackets, or leaves the question out.
        if question.ends_with("]: ") {
            return String::new();
        }
        let found = answers
            .iter()
            .find(|(start, _)| question.starts_with(start));
        found.map_or(String::new(), |(_, answer)| (*answer).to_owned())
    }

    /// The next path; none after the last.
    fn next(mut self) -> Option<Self> {
        self.at = 0;
        self.lines = 0;
        while let Some((taken, of)) = self.forks.pop() {
            if taken + 1 < of {
                self.forks.push((taken + 1, of));
                return Some(self);
            }
        }
        None
    }
}

#[test]
fn good_answers_come_to_an_end_on_every_path() {
    let folder = tempfile::tempdir().unwrap();
    let mut path = Some(AnswerPath::default());
    let mut paths = 0;
    while let Some(mut now) = path {
        let file = folder.path().join(format!("{paths}.toml"));
        let (said, endless) = asked(&file, |question| now.answer(question));
        assert!(!endless, "{:?}: {said}", now.forks);
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        let (case, found) = read_case(&text);
        assert!(case.is_some(), "{:?}: {said}\n{text}\n{found:?}", now.forks);
        paths += 1;
        path = now.next();
    }
    assert_eq!(paths, 2 * 2 * 3 * 2 * 2 * 4, "forks that are walked");
}

/// Whoever says the same to everything gets to the end, too.
#[test]
fn no_answer_is_asked_for_for_ever() {
    let folder = tempfile::tempdir().unwrap();
    for (number, answer) in [
        "", "x", "yes", "no", "lines", "bust", "size", "1", "99999", "\u{202e}",
    ]
    .into_iter()
    .enumerate()
    {
        let file = folder.path().join(format!("{number}.toml"));
        let (said, endless) = asked(&file, |question| {
            // Lines end with an empty one.
            let last = question.contains("paste them");
            if last && answer.is_empty() {
                String::new()
            } else {
                answer.to_owned()
            }
        });
        // Lines that never end are cut at their limit, which no pipe of a few answers reaches.
        assert!(!endless || said.contains("paste them"), "{answer}: {said}");
    }
}
