//! What the lines state, held against the rows: counts, changes, sides, the end.

use super::super::finding::Kind;
use super::super::program::Num;
use super::{Done, Halt, Run, Worked};
use crate::diagnostic::Span;
use crate::measure::Side;

impl Run<'_> {
    pub(super) fn close(&mut self, stated: Option<Num>, span: Span) -> Worked {
        if let Some(stated) = stated {
            self.check_count(stated, span);
        }
        if self.closed || self.count == 0 {
            self.find(Kind::AfterTheEnd, span);
            return Err(Halt);
        }
        self.beside.clear();
        let all = Done {
            bind_off: self.count,
            ..Done::default()
        };
        self.work(all, span)?;
        self.closed = true;
        Ok(())
    }

    pub(super) fn check_count(&mut self, stated: Num, span: Span) {
        let Some(stated) = self.number(stated, span) else {
            return;
        };
        let have = if self.closed {
            self.before_close()
        } else {
            self.count
        };
        if stated != have {
            self.find(Kind::Count { stated, have }, span);
        }
    }

    fn before_close(&self) -> u32 {
        self.rows
            .last()
            .map_or(self.count, |row| row.bind_off.count())
    }

    pub(super) fn check_change(&mut self, stated: Num, span: Span) {
        let Some(stated) = self.number(stated, span) else {
            return;
        };
        let have = self
            .last
            .map_or(0, |l| l.done.removed().max(l.done.added()));
        if stated != have {
            self.find(Kind::Change { stated, have }, span);
        }
    }

    /// `ending with a WS row`: the plain rows after spaced shaping are the knitter's; anywhere
    /// else the row reached must be of that side.
    pub(super) fn ended(&mut self, side: Side, span: Span) -> Worked {
        if self.closed || self.side() != side {
            return Ok(());
        }
        if self.spaced {
            self.find(Kind::PlainRow { side }, span);
            return self.plain(1, span);
        }
        let have = side.turned();
        self.find(Kind::Side { stated: side, have }, span);
        Ok(())
    }
}
