//! The edge: `at each end`, `at armhole edge`, `at the beginning`.

use super::super::program::RowPlace;
use super::super::term::Term;
use super::Parser;

impl Parser<'_> {
    /// The edge: `each end`, `at beg`, `from armhole edge`, `at same edge`, `each end of row`.
    pub(super) fn place(&mut self) -> Option<RowPlace> {
        if self.is(0, &[Term::From, Term::These]) {
            let edges = [
                Term::Every,
                Term::Armhole,
                Term::Neck,
                Term::Edge,
                Term::Side,
            ];
            self.is(1, &edges).then(|| self.at += 1)?;
        }
        let place = self.edge_named()?;
        if matches!(
            place,
            RowPlace::Armhole | RowPlace::Neck | RowPlace::Beginning | RowPlace::End
        ) {
            self.eat(Term::Only);
        }
        // `of row on next 4 rows`.
        let selects = [Term::Next, Term::Every, Term::Following];
        let comma = usize::from(self.is(1, &[Term::Comma]));
        if self.is(0, &[Term::Row]) && self.is(1 + comma, &selects) {
            self.at += 1 + comma;
        }
        Some(place)
    }

    fn edge_named(&mut self) -> Option<RowPlace> {
        let edge = [Term::Edge, Term::End, Term::Side];
        match self.term(0)? {
            // `at both armhole and neck edges`.
            Term::Every if self.is(1, &[Term::Armhole, Term::Neck]) && self.is(2, &[Term::And]) => {
                self.at += 1;
                self.edge_named()
                    .filter(|place| *place == RowPlace::EachEnd)
            }
            Term::Every if self.is(1, &[Term::Neck]) => {
                self.at += 2;
                self.eat_any(&[Term::Edge, Term::Side]);
                Some(RowPlace::Neck)
            }
            Term::Spread => {
                while self.eat(Term::Spread) {}
                Some(RowPlace::Spread)
            }
            Term::Every if self.is(1, &[Term::End, Term::Side, Term::Edge, Term::Armhole]) => {
                self.at += 2;
                self.eat_any(&[Term::Edge, Term::Side]);
                Some(RowPlace::EachEnd)
            }
            Term::Beginning if self.is(1, &[Term::And]) && self.is(2, &[Term::End]) => {
                self.at += 3;
                Some(RowPlace::EachEnd)
            }
            Term::Beginning => Some(self.one(RowPlace::Beginning)),
            Term::End if self.is_plural(0) => Some(self.one(RowPlace::EachEnd)),
            Term::End => Some(self.one(RowPlace::End)),
            // `at side` names neither.
            Term::Side if self.is_plural(0) => Some(self.one(RowPlace::EachEnd)),
            Term::Edge => {
                let before = self.verb.map(|going| going.place);
                let place = match (before, self.is_plural(0)) {
                    (Some(RowPlace::Neck), _) => RowPlace::Neck,
                    (_, true) => RowPlace::EachEnd,
                    // Of two edges none is the same.
                    (Some(RowPlace::EachEnd), false) => return None,
                    _ => RowPlace::Armhole,
                };
                Some(self.one(place))
            }
            Term::Armhole | Term::Neck => {
                let word = usize::from(self.is(1, &edge));
                let place = match self.term(0)? {
                    Term::Neck => RowPlace::Neck,
                    _ if self.is_plural(0) || word > 0 && self.is_plural(1) => RowPlace::EachEnd,
                    _ => RowPlace::Armhole,
                };
                self.at += word;
                let place = self.one(place);
                let other = if place == RowPlace::Neck {
                    Term::Armhole
                } else {
                    Term::Neck
                };
                let both = self.is(0, &[Term::And]) && self.is(1, &[other]);
                if both && matches!(place, RowPlace::Armhole | RowPlace::Neck) {
                    // `at armhole edge and neck edge`.
                    self.at += 2;
                    self.eat_any(&edge);
                    return Some(RowPlace::EachEnd);
                }
                Some(place)
            }
            _ => None,
        }
    }

    /// `edges`, `armholes`: both are meant.
    pub(super) fn is_plural(&self, ahead: usize) -> bool {
        let word = self
            .lexeme(ahead)
            .map(|l| self.slice(l.span).to_lowercase());
        word.is_some_and(|w| w.ends_with('s'))
    }

    fn one(&mut self, place: RowPlace) -> RowPlace {
        self.at += 1;
        place
    }
}

/// One edge that two words name; `None` when they name two.
pub(super) fn agreed(one: RowPlace, other: RowPlace) -> Option<RowPlace> {
    match (one, other) {
        (RowPlace::Unnamed, place) | (place, RowPlace::Unnamed) => Some(place),
        (one, other) if one == other => Some(one),
        (RowPlace::Beginning, edge @ (RowPlace::Armhole | RowPlace::Neck))
        | (edge @ (RowPlace::Armhole | RowPlace::Neck), RowPlace::Beginning) => Some(edge),
        // `at armhole edge each side`.
        (RowPlace::Armhole, RowPlace::EachEnd) | (RowPlace::EachEnd, RowPlace::Armhole) => {
            Some(RowPlace::EachEnd)
        }
        _ => None,
    }
}
