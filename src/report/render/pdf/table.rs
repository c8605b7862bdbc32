//! Tables: widths of columns, rows, and heads that come again on the next page.

use std::rc::Rc;

use super::flow::{Chunk, Ink, Mark, PlacedMark, TableHead};
use super::fonts::{Fonts, SMALL, TABLE, TABLE_HEAD, TICKED, Type};
use super::tags::{Node, Role, Tags};
use crate::report::document::{ColumnKind, TableBlock, TableColumn, bound};

/// Space left and right of a cell.
const PAD: f32 = 3.4;
/// The same in a checklist.
const NARROW: f32 = 2.4;
/// Space above and below the text of a row.
const GAP: f32 = 1.3;
/// The same in a checklist.
const TIGHT: f32 = 1.3;
/// A box to tick.
const TICK: f32 = 7.5;
/// Between two tables beside one another, or two halves of one.
pub(super) const BETWEEN: f32 = 16.0;
/// A column of sentences is never narrower.
const WORDS_AT_LEAST: f32 = 150.0;

/// A row that is laid out: its height, and its marks from its own top.
struct LaidRow {
    height: f32,
    marks: Vec<PlacedMark>,
}

/// Where a cell's text goes.
#[derive(Clone, Copy)]
struct Slot {
    /// Left edge and width.
    at: (f32, f32),
    top: f32,
    set: Type,
    kind: ColumnKind,
    node: Node,
}

/// Rows on each side of a block of a checklist.
const BLOCK: usize = 12;
/// Between two blocks.
const BLOCKS_APART: f32 = 5.0;

/// Rows below one another.
fn side(rows: Vec<LaidRow>) -> Chunk {
    let chunks = rows.into_iter().map(|row| Chunk {
        height: row.height,
        marks: row.marks,
        ..Chunk::default()
    });
    Chunk::stacked(chunks.collect())
}

/// A table on its way to the page.
pub(super) struct Setter<'a> {
    table: &'a TableBlock,
    fonts: &'a Fonts,
    /// Left edge and width of every column.
    columns: Vec<(f32, f32)>,
    width: f32,
    /// What the page has.
    room: f32,
    narrow: bool,
    /// Its cells.
    set: Type,
    pad: f32,
    gap: f32,
}

impl<'a> Setter<'a> {
    /// A table that takes the room it needs.
    pub(super) fn new(table: &'a TableBlock, fonts: &'a Fonts, room: f32) -> Self {
        let ticks = ticks(table, fonts);
        let widths = widths(table, fonts, room - ticks);
        Self::of(table, fonts, room, widths)
    }

    /// A table no wider than its longest cells.
    pub(super) fn narrow(table: &'a TableBlock, fonts: &'a Fonts, room: f32) -> Self {
        let widths = naturals(table, fonts).into_iter();
        Self {
            narrow: true,
            ..Self::of(table, fonts, room, widths.map(|(_, most)| most).collect())
        }
    }

    fn of(table: &'a TableBlock, fonts: &'a Fonts, room: f32, widths: Vec<f32>) -> Self {
        let mut left = ticks(table, fonts);
        let columns: Vec<(f32, f32)> = widths
            .into_iter()
            .map(|width| {
                left += width;
                (left - width, width)
            })
            .collect();
        Self {
            table,
            fonts,
            columns,
            width: left,
            room,
            narrow: false,
            set: set_in(table),
            pad: pad(table),
            gap: if table.boxes.is_empty() { GAP } else { TIGHT },
        }
    }

    /// From its left edge to its right one.
    pub(super) const fn width(&self) -> f32 {
        self.width
    }

    /// One chunk where the table stays whole, else one for each row; `frame` is a page's height.
    pub(super) fn chunks(&self, tags: &mut Tags, frame: f32) -> Vec<Chunk> {
        let node = tags.add(None, Role::Table);
        let head = self.head(tags, node);
        let rows: Vec<LaidRow> = self
            .table
            .rows
            .iter()
            .map(|row| self.row(row, tags, node))
            .collect();
        let caption = self.caption();
        let height = head.height + rows.iter().map(|row| row.height).sum::<f32>();
        // Where a heading stands above it, both must fit.
        let fits = height < frame - 70.0;
        let mut chunks: Vec<Chunk> = caption.into_iter().collect();
        if !self.table.boxes.is_empty() && 2.0 * self.width + BETWEEN <= self.room {
            chunks.extend(self.halves(&head, rows));
            return chunks;
        }
        let whole = self.table.whole && fits;
        let repeated = Rc::new(TableHead {
            height: head.height,
            marks: head
                .marks
                .iter()
                .map(|placed| placed.mark.clone())
                .collect(),
        });
        let space = if chunks.is_empty() { 4.0 } else { 2.0 };
        chunks.push(Chunk {
            space,
            height: head.height,
            marks: head.marks,
            with_next: true,
            ..Chunk::default()
        });
        let last = rows.len().saturating_sub(1);
        chunks.extend(rows.into_iter().enumerate().map(|(i, row)| Chunk {
            height: row.height,
            marks: row.marks,
            with_next: whole && i < last,
            repeated: (!whole).then(|| Rc::clone(&repeated)),
            ..Chunk::default()
        }));
        chunks
    }

    /// Rows in blocks, the second half of each beside the first; the headings above both.
    fn halves(&self, head: &LaidRow, mut rows: Vec<LaidRow>) -> Vec<Chunk> {
        let right = self.width + BETWEEN;
        let headings = |meant: bool| Chunk {
            height: head.height,
            marks: head
                .marks
                .iter()
                .map(|placed| PlacedMark {
                    mark: placed.mark.clone(),
                    node: placed.node.filter(|_| meant),
                })
                .collect(),
            ..Chunk::default()
        };
        let above = headings(true).beside(headings(false), right);
        let marks = above.marks.iter().map(|placed| placed.mark.clone());
        let repeated = Rc::new(TableHead {
            height: above.height,
            marks: marks.collect(),
        });
        let mut chunks = vec![Chunk {
            space: 4.0,
            with_next: true,
            ..above
        }];
        while !rows.is_empty() {
            let many = rows.len().min(2 * BLOCK);
            let later = rows.split_off(many);
            let second = rows.split_off(many.div_ceil(2));
            let block = side(rows).beside(side(second), right);
            chunks.push(Chunk {
                space: if chunks.len() > 1 { BLOCKS_APART } else { 0.0 },
                repeated: Some(Rc::clone(&repeated)),
                ..block
            });
            rows = later;
        }
        chunks
    }

    fn caption(&self) -> Option<Chunk> {
        if !self.table.captioned {
            return None;
        }
        // Beside something else it is no wider than its table.
        let room = if self.narrow { self.width } else { self.room };
        let lines = self.fonts.lines(&self.table.caption, SMALL, room);
        let height = SMALL.leading() * lines.len() as f32;
        let marks = lines.into_iter().enumerate().map(|(i, text)| PlacedMark {
            mark: Mark::Text {
                x: 0.0,
                y: SMALL.leading() * i as f32 + SMALL.rise(),
                set: SMALL,
                ink: Ink::Soft,
                text,
            },
            node: None,
        });
        Some(Chunk {
            space: 6.0,
            height,
            marks: marks.collect(),
            with_next: true,
            ..Chunk::default()
        })
    }

    fn head(&self, tags: &mut Tags, table: Node) -> LaidRow {
        let node = tags.add(Some(table), Role::Row);
        let cells: Vec<Vec<String>> = self
            .table
            .columns
            .iter()
            .zip(&self.columns)
            .map(|(column, (_, width))| {
                self.fonts
                    .lines(&column.name, TABLE_HEAD, width - 2.0 * self.pad)
            })
            .collect();
        let most = cells.iter().map(Vec::len).max().unwrap_or(1);
        let mut marks = Vec::new();
        let mut left = 0.0;
        for head in &self.table.boxes {
            let width = tick_column(head, self.fonts);
            let slot = Slot {
                at: (left, width),
                top: self.gap + TABLE_HEAD.leading() * (most as f32 - 1.0),
                set: TABLE_HEAD,
                kind: ColumnKind::Short,
                node: tags.add(Some(node), Role::ColumnHead),
            };
            marks.push(self.line(head, slot));
            left += width;
        }
        for ((lines, at), column) in cells.iter().zip(&self.columns).zip(&self.table.columns) {
            let cell = tags.add(Some(node), Role::ColumnHead);
            // The last line of every heading stands right above the rule.
            let top = self.gap + TABLE_HEAD.leading() * (most - lines.len()) as f32;
            let slot = Slot {
                at: *at,
                top,
                set: TABLE_HEAD,
                kind: column.kind,
                node: cell,
            };
            marks.extend(self.cell(lines, slot));
        }
        let height = 2.0 * self.gap + TABLE_HEAD.leading() * most as f32;
        marks.push(self.rule(height, 0.9));
        LaidRow { height, marks }
    }

    fn row(&self, row: &[String], tags: &mut Tags, table: Node) -> LaidRow {
        let node = tags.add(Some(table), Role::Row);
        if let [alone] = row {
            return self.sentence(alone, tags, node);
        }
        let columns = self.table.columns.iter().zip(&self.columns);
        let mut marks = Vec::new();
        let mut most = 1;
        let mut left = 0.0;
        for head in &self.table.boxes {
            marks.push(PlacedMark {
                mark: Mark::Tick {
                    x: left + self.pad,
                    y: self.gap + (self.set.leading() - TICK) / 2.0,
                    side: TICK,
                },
                node: Some(tags.add(Some(node), Role::Cell)),
            });
            left += tick_column(head, self.fonts);
        }
        for (cell, (column, at)) in row.iter().zip(columns) {
            let (role, set) = match column.kind {
                ColumnKind::Head => (Role::RowHead, Type::bold(self.set.size)),
                _ => (Role::Cell, self.set),
            };
            let lines = self.fonts.lines(cell, set, at.1 - 2.0 * self.pad);
            most = most.max(lines.len());
            let slot = Slot {
                at: *at,
                top: self.gap,
                set,
                kind: column.kind,
                node: tags.add(Some(node), role),
            };
            marks.extend(self.cell(&lines, slot));
        }
        self.ruled(marks, most)
    }

    /// A row that is one sentence across all columns.
    fn sentence(&self, text: &str, tags: &mut Tags, row: Node) -> LaidRow {
        let cell = tags.add(Some(row), Role::Cell);
        let lines = self
            .fonts
            .lines(text, self.set, self.width - 2.0 * self.pad);
        let slot = Slot {
            at: (0.0, self.width),
            top: self.gap,
            set: self.set,
            kind: ColumnKind::Words,
            node: cell,
        };
        let marks = self.cell(&lines, slot);
        self.ruled(marks, lines.len())
    }

    fn ruled(&self, mut marks: Vec<PlacedMark>, lines: usize) -> LaidRow {
        let height = 2.0 * self.gap + self.set.leading() * lines as f32;
        marks.push(self.rule(height, 0.4));
        LaidRow { height, marks }
    }

    fn rule(&self, y: f32, width: f32) -> PlacedMark {
        let mark = Mark::Line {
            from: (0.0, y),
            to: (self.width, y),
            width,
            ink: Ink::Rule,
        };
        PlacedMark { mark, node: None }
    }

    fn cell(&self, lines: &[String], slot: Slot) -> Vec<PlacedMark> {
        let placed = lines.iter().enumerate().map(|(i, line)| {
            let top = slot.top + slot.set.leading() * i as f32;
            self.line(line, Slot { top, ..slot })
        });
        placed.collect()
    }

    fn line(&self, text: &str, slot: Slot) -> PlacedMark {
        let (left, width) = slot.at;
        let x = match slot.kind {
            ColumnKind::Number => left + width - self.pad - self.fonts.width(text, slot.set),
            _ => left + self.pad,
        };
        let mark = Mark::Text {
            x,
            y: slot.top + slot.set.rise(),
            set: slot.set,
            ink: Ink::Text,
            text: text.to_owned(),
        };
        PlacedMark {
            mark,
            node: Some(slot.node),
        }
    }
}

/// The letters of a table's cells.
fn set_in(table: &TableBlock) -> Type {
    if table.boxes.is_empty() {
        TABLE
    } else {
        TICKED
    }
}

/// Space left and right of its cells.
fn pad(table: &TableBlock) -> f32 {
    if table.boxes.is_empty() { PAD } else { NARROW }
}

/// The width of a column of boxes below this heading.
fn tick_column(head: &str, fonts: &Fonts) -> f32 {
    fonts.width(head, TABLE_HEAD).max(TICK) + 2.0 * NARROW
}

fn ticks(table: &TableBlock, fonts: &Fonts) -> f32 {
    let heads = table.boxes.iter();
    heads.map(|head| tick_column(head, fonts)).sum()
}

/// The least width and the best one of every column.
fn naturals(table: &TableBlock, fonts: &Fonts) -> Vec<(f32, f32)> {
    let columns = table.columns.iter().enumerate();
    columns
        .map(|(i, column)| natural(table, fonts, i, column))
        .collect()
}

/// The width of every column, its padding with it.
fn widths(table: &TableBlock, fonts: &Fonts, room: f32) -> Vec<f32> {
    let natural = naturals(table, fonts);
    let words = |i: usize| {
        table
            .columns
            .get(i)
            .is_some_and(|c| c.kind == ColumnKind::Words)
    };
    let sum = |of: &dyn Fn(&(f32, f32)) -> f32| -> f32 {
        let others = natural.iter().enumerate().filter(|(i, _)| !words(*i));
        others.map(|(_, width)| of(width)).sum()
    };
    let (least, fixed) = (sum(&|width| width.0), sum(&|width| width.1));
    let sentences = (0..natural.len()).filter(|i| words(*i)).count();
    // What every other column has beyond its longest word shrinks alike, before anything is cut.
    let shrunk = |room: f32, (low, high): (f32, f32)| {
        let share = ((room - least) / (fixed - least).max(0.01)).clamp(0.0, 1.0);
        low + (high - low) * share
    };
    if sentences > 0 {
        let count = sentences as f32;
        let wanted = WORDS_AT_LEAST.min((room - least) / count);
        let each = ((room - fixed) / count).max(wanted);
        let left = room - each * count;
        let widths = natural.iter().enumerate();
        return widths
            .map(|(i, width)| if words(i) { each } else { shrunk(left, *width) })
            .collect();
    }
    if fixed <= room {
        return natural.iter().map(|(_, most)| *most).collect();
    }
    natural.iter().map(|width| shrunk(room, *width)).collect()
}

/// The least width of a column (its longest word) and the one it would like (its longest cell).
fn natural(table: &TableBlock, fonts: &Fonts, at: usize, column: &TableColumn) -> (f32, f32) {
    let set = match column.kind {
        ColumnKind::Head => Type::bold(set_in(table).size),
        _ => set_in(table),
    };
    let word = |text: &str, set| {
        let text = bound(text);
        let words = text.split(' ').map(|word| fonts.width(word, set));
        words.fold(0.0_f32, f32::max)
    };
    let cells = table
        .rows
        .iter()
        .filter(|row| row.len() > 1)
        .filter_map(|row| row.get(at));
    let (mut least, mut most) = (word(&column.name, TABLE_HEAD), heading(&column.name, fonts));
    for cell in cells {
        least = least.max(word(cell, set));
        most = most.max(fonts.width(cell, set));
    }
    // A breath more than needed, so that rounding never breaks a word.
    let pads = 2.0 * pad(table) + 0.5;
    (least + pads, most.max(least) + pads)
}

/// The least width at which a heading has two lines at the most.
fn heading(name: &str, fonts: &Fonts) -> f32 {
    let whole = fonts.width(name, TABLE_HEAD);
    let mut width = whole / 2.0;
    while width < whole && fonts.lines(name, TABLE_HEAD, width).len() > 2 {
        width += 2.0;
    }
    let lines = fonts.lines(name, TABLE_HEAD, width);
    let lines = lines.iter().map(|line| fonts.width(line, TABLE_HEAD));
    lines.fold(0.0, f32::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_column_goes_beyond_the_room_there_is() {
        let fonts = Fonts::new().unwrap();
        let long = "a section with quite a long name of its own";
        for sentences in 0..=4 {
            for heads in 1..=3 {
                let columns = (0..heads).map(|_| TableColumn::new("Section", ColumnKind::Head));
                let told =
                    (0..sentences).map(|_| TableColumn::new("What to do", ColumnKind::Words));
                let columns: Vec<TableColumn> = columns.chain(told).collect();
                let row = vec![long.to_owned(); columns.len()];
                let table = TableBlock::new("Rows", columns, vec![row]);
                let room = 520.0;
                let all: f32 = widths(&table, &fonts, room).iter().sum();
                assert!(all <= room + 0.1, "{heads} heads, {sentences} told: {all}");
            }
        }
    }
}
