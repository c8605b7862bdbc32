//! The edge of a step that names none.

use super::super::program::{Doubt, RowPlace, ShapedPart, Verb};
use super::SizeRun;

impl SizeRun<'_> {
    /// The edge where none is named: each end of a symmetrical piece.
    pub(super) fn edge_meant(&mut self, part: &ShapedPart, by: u32) -> (RowPlace, u32) {
        let shapes = matches!(part.verb, Verb::Dec | Verb::Inc);
        match part.place {
            // One half is followed: each of its edges is named by what it is.
            RowPlace::Unnamed if self.divided.is_some() && shapes => return (RowPlace::Neck, by),
            RowPlace::EachEnd if self.divided.is_some() && !shapes && part.verb != Verb::Again => {
                return (RowPlace::Armhole, by);
            }
            RowPlace::Unnamed => {}
            place => return (place, by),
        }
        match part.verb {
            Verb::BindOff => (self.edge_bound_off(part), by),
            Verb::CastOn => (RowPlace::Beginning, by),
            Verb::Again => (RowPlace::EachEnd, by),
            Verb::Dec | Verb::Inc if by.is_multiple_of(2) => (RowPlace::EachEnd, by / 2),
            Verb::Dec | Verb::Inc => {
                self.met.insert(part.other);
                let one_edge = self.setting.half_piece && self.edge.is_some();
                if one_edge == self.program.second(part.other) {
                    (RowPlace::EachEnd, by)
                } else {
                    (RowPlace::Armhole, by)
                }
            }
        }
    }

    /// `every 2nd row bind off 3 sts`: the edge of the bind-offs before; of a piece with two such edges, or of a sleeve, both.
    fn edge_bound_off(&mut self, part: &ShapedPart) -> RowPlace {
        let mut sides = self
            .rows
            .iter()
            .filter(|row| row.binds_off())
            .map(|row| row.side);
        let first = sides.next();
        let one_edge = first.is_some_and(|first| sides.all(|side| side == first));
        let choice = self.program.choices.get(part.other);
        let open = choice.is_some_and(|choice| choice.doubt == Doubt::Edge);
        if self.divided.is_some() || one_edge || !open {
            return RowPlace::Beginning;
        }
        self.met.insert(part.other);
        let half = self.setting.half_piece && first.is_none();
        if half == self.program.second(part.other) {
            RowPlace::EachEnd
        } else {
            RowPlace::Beginning
        }
    }
}
