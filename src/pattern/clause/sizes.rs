//! Which sizes a step is for: `sizes 3 and 4 only:`, `Medium and Large only:`, `all sizes except S`.
//!
//! Size words hold until the next ones, over the ends of sentences, up to the end of a paragraph.

use crate::diagnostic::{Diagnostic, Span};

use super::super::codes;
use super::super::term::Term;
// Circle with clause/mod.rs: a parser carries the block of sizes it is in, and reads it itself.
use super::Parser;

/// Lexemes of the longest label: `12 - 18 months`.
const LONGEST_LABEL: usize = 8;

/// Sizes named in the text that are not closed by `all sizes` yet.
#[derive(Clone, Copy, Debug)]
pub(super) struct SizeBlock {
    span: Span,
    /// Steps before it.
    steps: usize,
    mask: u64,
    /// Sizes that had a part of their own.
    covered: u64,
    /// Sentences of it that are ended, and the most of a part before it.
    pub(super) sentences: usize,
    most: usize,
}

/// What held before a bracket.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outer {
    close: usize,
    steps: usize,
    mask: u64,
    block: Option<SizeBlock>,
}

/// Sizes as the text names them.
struct NamedSizes {
    mask: u64,
    /// Said so that nothing but sizes can be meant.
    plain: bool,
    /// Only letters were read, no number that could count stitches.
    letters: bool,
}

const MARKS: &[Term] = &[Term::Colon, Term::Comma, Term::Dash];

impl Parser<'_> {
    pub(super) fn size_mask(&mut self) -> Option<()> {
        let start = self.at;
        let introduced = self.eat(Term::For);
        let named = self
            .attempt(Self::all_sizes)
            .or_else(|| self.attempt(Self::sizes_by_rank))
            .or_else(|| self.attempt(Self::sizes_by_place))
            .or_else(|| self.attempt(Self::sizes_by_label))
            .or_else(|| self.attempt(Self::no_such_size))?;
        let only = self.eat(Term::Only);
        let marked = self.is(0, MARKS);
        let ends = self.is(0, &[Term::Stop, Term::Semicolon, Term::Close])
            || self.lexeme(0).is_none_or(|l| l.starts_line);
        let first = self.steps.len() == self.sentence;
        let letters = named.letters && (introduced || marked || ends || first);
        let numbers = first && self.is(0, &[Term::Colon]);
        (named.plain || only || letters || numbers).then_some(())?;
        // `(M: L)`, `(sizes S M)`.
        let list = self.is(0, &[Term::Label]) || self.is(0, MARKS) && self.is(1, &[Term::Label]);
        let list = list || self.is(0, &[Term::Stop]);
        if !first && list && self.stands_before(start, &[Term::Open]) {
            let span = self.span_from(start);
            self.not_understood(span, "is followed by the name of another size");
        }
        // `work 2 rows for S, 4 rows for M`: nothing parts it from the clause that it belongs to.
        let attached = !first && !self.is(0, &[Term::Colon, Term::Dash]) && !self.after_mark(start);
        if attached || !first && !marked && ends {
            self.narrow_last(named.mask, start);
            return Some(());
        }
        // `dec next row for M - work 1 row`, `dec next row, L only, work 1 row`: of which of the two steps?
        let parted = [Term::Semicolon, Term::Stop, Term::Colon, Term::Then];
        let dash = self.is(0, &[Term::Dash]) && !self.stands_before(start, &parted);
        let commas = self.is(0, &[Term::Comma]) && self.stands_before(start, &[Term::Comma]);
        if !first && !introduced && commas || !first && dash {
            let span = self.span_from(start);
            self.not_understood(span, "may be of the step before or of the one that follows");
        }
        self.eat_any(MARKS);
        self.mask_from_here(named.mask, start);
        Some(())
    }

    /// A mark or a joint stands before the lexeme at `start`.
    fn after_mark(&self, start: usize) -> bool {
        let before = start.checked_sub(1).and_then(|at| self.lexemes.get(at));
        let marks = [
            Term::Comma,
            Term::Stop,
            Term::Semicolon,
            Term::Colon,
            Term::And,
            Term::Then,
            Term::Dash,
            Term::Open,
            Term::Close,
            Term::Star,
        ];
        before.is_none_or(|l| marks.contains(&l.term))
            || self.lexemes.get(start).is_some_and(|l| l.starts_line)
    }

    /// Sizes by rank, place or label, and nothing said of them yet.
    pub(super) fn some_sizes(&mut self) -> Option<u64> {
        let named = self
            .attempt(Self::sizes_by_rank)
            .or_else(|| self.attempt(Self::sizes_by_place))
            .or_else(|| self.attempt(Self::sizes_by_label))?;
        self.eat(Term::Only);
        Some(named.mask)
    }

    /// A bracket that is closed closes the words for sizes in it, where something was told of them there.
    pub(super) fn close_sizes(&mut self) {
        while let Some(outer) = self.outer_sizes.pop_if(|outer| outer.close < self.at) {
            let inside = self.block.filter(|block| {
                outer.block.is_none_or(|before| before.span != block.span)
                    && block.steps >= outer.steps
                    && self.steps.len() > block.steps
            });
            if let Some(inside) = inside {
                self.mask = outer.mask;
                self.block = outer.block;
                if let Some(block) = &mut self.block {
                    block.covered |= inside.covered;
                }
            }
        }
    }

    /// The words for sizes before the bracket that opens here.
    pub(super) fn open_sizes(&mut self) {
        if let Some(close) = self.closes.get(self.at).copied() {
            self.outer_sizes.push(Outer {
                close,
                steps: self.steps.len(),
                mask: self.mask,
                block: self.block,
            });
        }
    }

    pub(super) fn every_size(&self) -> u64 {
        let sizes = u32::try_from(self.labels.len()).unwrap_or(64);
        u64::MAX >> 64_u32.saturating_sub(sizes).min(63)
    }

    /// The steps from here on are for these sizes.
    fn mask_from_here(&mut self, mask: u64, start: usize) {
        let span = self.span_from(start);
        let whole = mask == self.every_size();
        // `For first sizes M and L`: two words for sizes and nothing between.
        if let Some(block) = self.block
            && block.steps == self.steps.len()
            && block.mask != mask
        {
            let span = block.span.join(span);
            self.not_understood(span, "names sizes twice, and not the same");
        }
        self.mask = if whole { u64::MAX } else { mask };
        let covered = self.block.map_or(0, |b| b.covered) | mask;
        let steps = self.steps.len();
        let begun = usize::from(steps > self.sentence);
        let most = self.block.map_or(0, |b| b.most.max(b.sentences + begun));
        self.block = (!whole).then_some(SizeBlock {
            span,
            steps,
            mask,
            covered,
            sentences: 0,
            most,
        });
    }

    /// `work 2 more rows for size 3 only` limits the clause before.
    fn narrow_last(&mut self, mask: u64, start: usize) {
        let every = self.every_size();
        let from = self.last_clause.max(self.sentence);
        let mut nobody = from >= self.steps.len();
        for step in self.steps.iter_mut().skip(from) {
            nobody |= step.sizes & mask & every == 0;
            step.sizes &= mask;
        }
        // `S only: work 2 rows; M; L: work 4 rows`.
        if nobody {
            let span = self.span_from(start);
            self.not_understood(
                span,
                "names other sizes than those that the step before is for",
            );
        }
    }

    /// At the end of a paragraph: sizes that are still open are told.
    pub(super) fn end_of_sizes(&mut self) {
        self.mask = u64::MAX;
        let Some(block) = self.block.take() else {
            return;
        };
        // `S: work 2 rows. L: work 4 rows. Dec ...`: the last sentence may be meant for all.
        let begun = usize::from(self.steps.len() > self.sentence);
        let longer = block.sentences + begun > block.most;
        if block.covered == self.every_size() && !longer {
            return;
        }
        let message = format!(
            "'{}' is not closed by 'all sizes'; it is taken to hold up to the end of its paragraph",
            self.slice(block.span)
        );
        self.diagnostics
            .push(Diagnostic::new(&codes::SIZES_OPEN, message).at(block.span));
    }

    /// `all sizes`, `each size`, `all sizes except Small`, `all other sizes`.
    fn all_sizes(&mut self) -> Option<NamedSizes> {
        let remaining = self.eat(Term::Remaining);
        let all = self.eat_any(&[Term::All, Term::Every]).is_some();
        let other = remaining || self.eat(Term::Alternate);
        (all || other).then_some(())?;
        let size = self.eat(Term::Size);
        if self.eat(Term::Except) {
            self.eat(Term::For);
            let but = self
                .attempt(Self::sizes_by_rank)
                .or_else(|| self.attempt(Self::sizes_by_place))
                .or_else(|| self.attempt(Self::sizes_by_label))?;
            return Some(NamedSizes {
                mask: self.every_size() & !but.mask,
                plain: size || but.plain,
                letters: but.letters,
            });
        }
        // `All: work 1 row`, after words for some sizes.
        let closes = all && !other && self.block.is_some() && self.is(0, &[Term::Colon]);
        (size || closes).then_some(())?;
        let mask = match (other, self.block) {
            (true, Some(block)) => self.every_size() & !block.covered,
            (true, None) => return None,
            (false, _) => self.every_size(),
        };
        Some(NamedSizes {
            mask,
            plain: true,
            letters: true,
        })
    }

    /// `largest size`, `2 smallest sizes`, `larger 2 sizes`, and `larger sizes` of two or three.
    fn sizes_by_rank(&mut self) -> Option<NamedSizes> {
        let before = self.attempt(Self::plain_number);
        let word = self.lexeme(0)?;
        let larger = self.eat_any(&[Term::Larger, Term::Smaller])? == Term::Larger;
        let number = before.or_else(|| self.attempt(Self::plain_number));
        let size = self.lexeme(0)?;
        self.need(Term::Size)?;
        let all = u32::try_from(self.labels.len()).ok()?;
        let superlative = self.slice(word.span).to_lowercase().ends_with("st");
        let plural = self.slice(size.span).to_lowercase().ends_with('s');
        let count = match (number, plural) {
            (Some(n), _) => n,
            (None, false) if superlative || all == 2 => 1,
            (None, true) if all == 3 => 2,
            _ => return None,
        };
        (count > 0 && count <= all).then_some(())?;
        let low = (1_u64.checked_shl(count)?).wrapping_sub(1);
        let mask = if larger { low << (all - count) } else { low };
        Some(NamedSizes {
            mask,
            plain: true,
            letters: true,
        })
    }

    /// `1st size`, `2nd and 3rd sizes`, `last size`, `first 2 sizes`.
    fn sizes_by_place(&mut self) -> Option<NamedSizes> {
        let mut mask = 0;
        let plain = |mask| NamedSizes {
            mask,
            plain: true,
            letters: true,
        };
        loop {
            let lexeme = self.lexeme(0)?;
            let place = match lexeme.term {
                Term::Ordinal => lexeme.count()?,
                Term::Last => u32::try_from(self.labels.len()).ok()?,
                _ => return None,
            };
            self.at += 1;
            if let Some(number) = self.attempt(Self::plain_number) {
                self.need(Term::Size)?;
                for n in 0..number.min(64) {
                    let at = if lexeme.term == Term::Last {
                        place.checked_sub(n)?
                    } else {
                        place + n
                    };
                    mask |= self.size_at(at)?;
                }
                return Some(plain(mask));
            }
            mask |= self.size_at(place)?;
            if self.eat(Term::Size) {
                let up = self.eat_up_or_down();
                return Some(plain(self.widened(mask, up)));
            }
            self.eat_any(&[Term::Comma, Term::And, Term::Or])?;
            self.eat(Term::And);
        }
    }

    /// `sizes 3 and 4`, `size M`, `S, M and L`, `sizes 2 and up`, `Medium and larger`.
    fn sizes_by_label(&mut self) -> Option<NamedSizes> {
        let size = self.eat(Term::Size);
        (size || self.is(0, &[Term::Label]) || self.numbers_name_sizes()).then_some(())?;
        let mut mask = 0;
        let mut letters = true;
        let mut last = 0;
        let mut range = false;
        loop {
            letters &= self.is(0, &[Term::Label]);
            let at = match self.label_here() {
                Some(at) => at,
                None if size => self.size_number()?,
                None => return None,
            };
            mask |= 1_u64.checked_shl(at)?;
            if range {
                for between in last..at {
                    mask |= 1_u64.checked_shl(between)?;
                }
            }
            last = at;
            if let Some(up) = self.attempt(|p| p.eat_up_or_down().map(Some)) {
                mask = self.widened(mask, up);
                let plain = true;
                return Some(NamedSizes {
                    mask,
                    plain,
                    letters,
                });
            }
            if let Some(more) = self.attempt(|p| p.sizes_in_brackets(size)) {
                let after = self.eat(Term::Size);
                return Some(NamedSizes {
                    mask: mask | more,
                    plain: size || after,
                    letters,
                });
            }
            let here = self.at;
            range = self.eat_any(&[Term::Until, Term::Dash]).is_some();
            let joints = [Term::Comma, Term::And, Term::Or, Term::Slash];
            while !range && self.eat_any(&joints).is_some() {}
            let goes_on = self.at > here && (self.label_ahead() || size && self.number_ahead());
            if !goes_on {
                self.at = here;
                let after = self.eat(Term::Size);
                return Some(NamedSizes {
                    mask,
                    plain: size || after,
                    letters,
                });
            }
        }
    }

    /// `(M, L)` after `Size S`.
    fn sizes_in_brackets(&mut self, size: bool) -> Option<u64> {
        let close = self
            .closes
            .get(self.at)
            .copied()
            .filter(|&c| c < self.end)?;
        self.need(Term::Open)?;
        let mut mask = 0;
        while self.at < close {
            let at = match self.label_here() {
                Some(at) => at,
                None if size => self.size_number()?,
                None => return None,
            };
            mask |= 1_u64.checked_shl(at)?;
            let joints = [Term::Comma, Term::Colon, Term::Slash, Term::Dash, Term::And];
            while self.eat_any(&joints).is_some() {}
        }
        self.need(Term::Close)?;
        Some(mask)
    }

    /// A size by its word that the case does not have.
    fn no_such_size(&mut self) -> Option<NamedSizes> {
        let from = self.at;
        let size = self.eat(Term::Size);
        let named = [
            Term::Label,
            Term::Larger,
            Term::Smaller,
            Term::Number,
            Term::Ordinal,
        ];
        let first = self.eat_any(&named)?;
        while self.eat_any(&[Term::Label, Term::Number]).is_some() {}
        let after = self.eat(Term::Size);
        let is_size = size || after || first == Term::Label;
        let end = self.is(0, &[Term::Only, Term::Colon]) || after || size;
        (is_size && (end || first == Term::Label)).then_some(())?;
        let span = self.span_from(from);
        let message = format!(
            "'{}' is none of the sizes {}",
            self.slice(span),
            self.labels.join(", ")
        );
        self.diagnostics
            .push(Diagnostic::new(&codes::NO_SUCH_SIZE, message).at(span));
        Some(NamedSizes {
            mask: 0,
            plain: true,
            letters: true,
        })
    }

    /// `and up`, `and larger`: true; `and down`, `and smaller`: false.
    fn eat_up_or_down(&mut self) -> Option<bool> {
        let here = self.at;
        self.eat_any(&[Term::And, Term::Or]);
        let found = self.eat_any(&[Term::Up, Term::Larger, Term::Smaller]);
        if found.is_none() {
            self.at = here;
        }
        found.map(|term| term != Term::Smaller)
    }

    /// The sizes with all larger (or smaller) ones.
    fn widened(&self, mask: u64, up: Option<bool>) -> u64 {
        let lowest = mask & mask.wrapping_neg();
        match up {
            Some(true) => self.every_size() & !lowest.wrapping_sub(1),
            Some(false) => self.every_size() & (u64::MAX >> mask.leading_zeros()),
            None => mask,
        }
    }

    /// A list of bare numbers that `only`, `sizes` or a colon closes.
    fn numbers_name_sizes(&self) -> bool {
        let listed = [
            Term::Number,
            Term::Label,
            Term::Comma,
            Term::And,
            Term::Or,
            Term::Dash,
            Term::Until,
            Term::Slash,
        ];
        let most = 2 * super::super::limits::MAX_SIZES;
        let end = (0..most).find(|&ahead| !self.is(ahead, &listed));
        end.is_some_and(|ahead| {
            self.is(
                ahead,
                &[Term::Only, Term::Size, Term::Colon, Term::Larger, Term::Up],
            )
        })
    }

    fn label_ahead(&mut self) -> bool {
        let here = self.at;
        let found = self.label_here().is_some();
        self.at = here;
        found
    }

    fn number_ahead(&self) -> bool {
        self.is(0, &[Term::Number])
            && !self.is(1, &[Term::Stitch, Term::Row, Term::Times, Term::Cross])
    }

    /// A number after `size` is the place of a size, counted from 1.
    fn size_number(&mut self) -> Option<u32> {
        let place = self.plain_number()?;
        let sizes = u32::try_from(self.labels.len()).ok()?;
        place.checked_sub(1).filter(|&at| at < sizes)
    }

    /// The place of the size whose label stands here, and goes past it: the longest that fits.
    pub(super) fn label_here(&mut self) -> Option<u32> {
        let first = self.lexeme(0)?;
        matches!(first.term, Term::Label | Term::Number).then_some(())?;
        let mut best = None;
        let mut printed = String::new();
        for count in 0..LONGEST_LABEL {
            let Some(last) = self.lexeme(count) else {
                break;
            };
            // Word by word: what was set aside between them is no part of the label.
            let letters = letters_of(self.slice(last.span));
            if letters.is_empty() {
                continue;
            }
            printed += &letters;
            if printed.len() > self.longest_label {
                break;
            }
            let at = self.label_letters.iter().position(|l| *l == printed);
            if let Some(at) = at {
                best = Some((at, count + 1));
            }
        }
        let (at, count) = best?;
        self.at += count;
        u32::try_from(at).ok()
    }

    /// One bit for the size at this place, counted from 1.
    fn size_at(&self, place: u32) -> Option<u64> {
        let at = place.checked_sub(1)?;
        (usize::try_from(at).ok()? < self.labels.len())
            .then(|| 1_u64.checked_shl(at))
            .flatten()
    }
}

/// Letters and digits in lower case, so that `X-Large` and `x large` are one label.
pub(super) fn letters_of(label: &str) -> String {
    let kept = label.chars().filter(|c| c.is_alphanumeric());
    kept.flat_map(char::to_lowercase).collect()
}
