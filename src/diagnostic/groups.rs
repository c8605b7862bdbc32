//! The same finding in several sizes is told once.

use super::finding::Diagnostic;

/// One finding and the sizes that have it.
#[derive(Clone, Debug)]
pub(crate) struct Group<'a> {
    /// The finding in the first of them.
    pub(crate) first: &'a Diagnostic,
    /// The sizes, as first met; empty for a finding on the whole.
    pub(crate) sizes: Vec<&'a str>,
    /// True when the figures differ from size to size.
    pub(crate) differs: bool,
}

impl Group<'_> {
    /// Whose figures the message gives, where they differ from size to size.
    pub(crate) fn figures(&self) -> String {
        match self.sizes.as_slice() {
            [first, _, ..] if self.differs => format!(" (figures of size {first})"),
            _ => String::new(),
        }
    }
}

/// Findings alike but for their figures, worst first, else in the order given.
pub(crate) fn groups<'a>(findings: impl Iterator<Item = &'a Diagnostic>) -> Vec<Group<'a>> {
    let mut groups: Vec<(String, Group<'a>)> = Vec::new();
    for finding in findings {
        let shape = shape(&finding.message);
        let size = finding.size.as_deref();
        let alike = groups.iter_mut().find(|(known, group)| {
            *known == shape
                && group.first.code.id == finding.code.id
                && group.first.level == finding.level
                && group.first.lines == finding.lines
                && group.sizes.is_empty() == size.is_none()
        });
        if let Some((_, group)) = alike {
            group.differs |= group.first.message != finding.message;
            if let Some(size) = size.filter(|size| !group.sizes.contains(size)) {
                group.sizes.push(size);
            }
        } else {
            let group = Group {
                first: finding,
                sizes: size.into_iter().collect(),
                differs: false,
            };
            groups.push((shape, group));
        }
    }
    groups.sort_by_key(|(_, group)| std::cmp::Reverse(group.first.level));
    groups.into_iter().map(|(_, group)| group).collect()
}

/// A message without its figures and size labels: without words that hold a digit or are all
/// capitals.
fn shape(message: &str) -> String {
    let words = message.split_whitespace().filter(|word| {
        let word = word.trim_matches(|c: char| !c.is_alphanumeric());
        let capitals = word.chars().all(char::is_uppercase);
        !capitals && !word.chars().any(|c| c.is_ascii_digit())
    });
    words.collect::<Vec<&str>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::finding::{Code, Level};
    use super::*;

    const fn code(id: &'static str) -> Code {
        Code {
            id,
            level: Level::Note,
            title: "",
            why: "",
            source: "",
            next: "",
        }
    }

    const CODES: [Code; 2] = [code("one"), code("other")];

    fn finding(code: usize, message: &str, size: &str) -> Diagnostic {
        let found = Diagnostic::new(&CODES[code], message);
        if size.is_empty() {
            found
        } else {
            found.for_size(size)
        }
    }

    #[test]
    fn alike_but_for_figures_is_one() {
        let all = [
            finding(
                0,
                "The edge of 17.0 cm is shorter than the front's 18.",
                "S",
            ),
            finding(0, "The edge of 17.5 cm is shorter than the back's 18.", "S"),
            finding(
                0,
                "The edge of 18.0 cm is shorter than the front's 19.",
                "M",
            ),
            finding(1, "People of M.", "M"),
            finding(1, "People of XL.", "L"),
            finding(1, "People of XL.", ""),
        ];
        let found: Vec<(Vec<&str>, bool)> = groups(all.iter())
            .into_iter()
            .map(|group| (group.sizes, group.differs))
            .collect();
        assert_eq!(found.len(), 4);
        assert!(found.contains(&(vec!["S", "M"], true)));
        assert!(found.contains(&(vec!["S"], false)));
        assert!(found.contains(&(vec!["M", "L"], true)));
        assert!(found.contains(&(vec![], false)));
    }
}
