//! Tables: widths of columns, rows, and heads that come again on the next page.

use std::rc::Rc;

use super::flow::{Chunk, Ink, Mark, Placed, Repeated};
use super::fonts::{Fonts, SMALL, TABLE, TABLE_HEAD, Type};
use super::tags::{Node, Role, Tags};
use crate::report::document::{Column, ColumnKind, Table, bound};

/// Space left and right of a cell.
const PAD: f32 = 4.0;
/// Space above and below the text of a row.
const GAP: f32 = 2.2;
/// The same in a checklist, so that forty rows go on one page.
const TIGHT: f32 = 1.5;
/// A box to tick.
const TICK: f32 = 8.0;
/// Room for it.
const TICK_COLUMN: f32 = 32.0;
/// A column of sentences is never narrower.
const WORDS_AT_LEAST: f32 = 150.0;

/// A row that is laid out: its height, and its marks from its own top.
struct Row {
    height: f32,
    marks: Vec<Placed>,
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

/// A table on its way to the page.
pub(super) struct Setter<'a> {
    table: &'a Table,
    fonts: &'a Fonts,
    /// Left edge and width of every column.
    columns: Vec<(f32, f32)>,
    width: f32,
    gap: f32,
}

impl<'a> Setter<'a> {
    pub(super) fn new(table: &'a Table, fonts: &'a Fonts, room: f32) -> Self {
        let ticks = if table.boxes { TICK_COLUMN } else { 0.0 };
        let widths = widths(table, fonts, room - ticks);
        let mut left = ticks;
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
            gap: if table.boxes { TIGHT } else { GAP },
        }
    }

    /// One chunk where the table stays whole, else one for each row; `frame` is a page's height.
    pub(super) fn chunks(&self, tags: &mut Tags, frame: f32) -> Vec<Chunk> {
        let node = tags.add(None, Role::Table);
        let head = self.head(tags, node);
        let rows: Vec<Row> = self
            .table
            .rows
            .iter()
            .map(|row| self.row(row, tags, node))
            .collect();
        let caption = self.caption();
        let height = head.height + rows.iter().map(|row| row.height).sum::<f32>();
        // Where a heading stands above it, both must fit.
        let whole = self.table.whole && height < frame - 70.0;
        let mut chunks: Vec<Chunk> = caption.into_iter().collect();
        let repeated = Rc::new(Repeated {
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

    fn caption(&self) -> Option<Chunk> {
        if !self.table.captioned {
            return None;
        }
        let mark = Mark::Text {
            x: 0.0,
            y: SMALL.rise(),
            set: SMALL,
            ink: Ink::Soft,
            text: self.table.caption.clone(),
        };
        Some(Chunk {
            space: 8.0,
            height: SMALL.leading(),
            marks: vec![Placed { mark, node: None }],
            with_next: true,
            ..Chunk::default()
        })
    }

    fn head(&self, tags: &mut Tags, table: Node) -> Row {
        let node = tags.add(Some(table), Role::Row);
        let cells: Vec<Vec<String>> = self
            .table
            .columns
            .iter()
            .zip(&self.columns)
            .map(|(column, (_, width))| {
                self.fonts
                    .lines(&column.name, TABLE_HEAD, width - 2.0 * PAD)
            })
            .collect();
        let most = cells.iter().map(Vec::len).max().unwrap_or(1);
        let mut marks = Vec::new();
        if self.table.boxes {
            let y = self.gap + TABLE_HEAD.leading() * (most as f32 - 1.0);
            let cell = tags.add(Some(node), Role::ColumnHead);
            let slot = Slot {
                at: (0.0, TICK_COLUMN),
                top: y,
                set: TABLE_HEAD,
                kind: ColumnKind::Short,
                node: cell,
            };
            marks.push(self.line("Done", slot));
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
        Row { height, marks }
    }

    fn row(&self, row: &[String], tags: &mut Tags, table: Node) -> Row {
        let node = tags.add(Some(table), Role::Row);
        if let [alone] = row {
            return self.sentence(alone, tags, node);
        }
        let columns = self.table.columns.iter().zip(&self.columns);
        let mut marks = Vec::new();
        let mut most = 1;
        if self.table.boxes {
            let y = self.gap + (TABLE.leading() - TICK) / 2.0;
            marks.push(Placed {
                mark: Mark::Tick {
                    x: PAD,
                    y,
                    side: TICK,
                },
                node: Some(tags.add(Some(node), Role::Cell)),
            });
        }
        for (cell, (column, at)) in row.iter().zip(columns) {
            let (role, set) = match column.kind {
                ColumnKind::Head => (Role::RowHead, Type::bold(TABLE.size)),
                _ => (Role::Cell, TABLE),
            };
            let lines = self.fonts.lines(cell, set, at.1 - 2.0 * PAD);
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
    fn sentence(&self, text: &str, tags: &mut Tags, row: Node) -> Row {
        let cell = tags.add(Some(row), Role::Cell);
        let lines = self.fonts.lines(text, TABLE, self.width - 2.0 * PAD);
        let slot = Slot {
            at: (0.0, self.width),
            top: self.gap,
            set: TABLE,
            kind: ColumnKind::Words,
            node: cell,
        };
        let marks = self.cell(&lines, slot);
        self.ruled(marks, lines.len())
    }

    fn ruled(&self, mut marks: Vec<Placed>, lines: usize) -> Row {
        let height = 2.0 * self.gap + TABLE.leading() * lines as f32;
        marks.push(self.rule(height, 0.4));
        Row { height, marks }
    }

    fn rule(&self, y: f32, width: f32) -> Placed {
        let mark = Mark::Line {
            from: (0.0, y),
            to: (self.width, y),
            width,
            ink: Ink::Rule,
        };
        Placed { mark, node: None }
    }

    fn cell(&self, lines: &[String], slot: Slot) -> Vec<Placed> {
        let placed = lines.iter().enumerate().map(|(i, line)| {
            let top = slot.top + slot.set.leading() * i as f32;
            self.line(line, Slot { top, ..slot })
        });
        placed.collect()
    }

    fn line(&self, text: &str, slot: Slot) -> Placed {
        let (left, width) = slot.at;
        let x = match slot.kind {
            ColumnKind::Number => left + width - PAD - self.fonts.width(text, slot.set),
            _ => left + PAD,
        };
        let mark = Mark::Text {
            x,
            y: slot.top + slot.set.rise(),
            set: slot.set,
            ink: Ink::Text,
            text: text.to_owned(),
        };
        Placed {
            mark,
            node: Some(slot.node),
        }
    }
}

/// The width of every column, its padding with it.
fn widths(table: &Table, fonts: &Fonts, room: f32) -> Vec<f32> {
    let natural: Vec<(f32, f32)> = table
        .columns
        .iter()
        .enumerate()
        .map(|(i, column)| natural(table, fonts, i, column))
        .collect();
    let words = |i: usize| {
        table
            .columns
            .get(i)
            .is_some_and(|c| c.kind == ColumnKind::Words)
    };
    let fixed: f32 = natural
        .iter()
        .enumerate()
        .filter(|(i, _)| !words(*i))
        .map(|(_, w)| w.1)
        .sum();
    let sentences = (0..natural.len()).filter(|i| words(*i)).count();
    if sentences > 0 {
        let each = ((room - fixed) / sentences as f32).max(WORDS_AT_LEAST);
        let widths = natural.iter().enumerate();
        return widths
            .map(|(i, (_, most))| if words(i) { each } else { *most })
            .collect();
    }
    if fixed <= room {
        return natural.iter().map(|(_, most)| *most).collect();
    }
    // Too wide: what every column has beyond its longest word shrinks alike.
    let least: f32 = natural.iter().map(|(least, _)| least).sum();
    let share = ((room - least) / (fixed - least).max(0.01)).clamp(0.0, 1.0);
    natural
        .iter()
        .map(|(least, most)| least + (most - least) * share)
        .collect()
}

/// The least width of a column (its longest word) and the one it would like (its longest cell).
fn natural(table: &Table, fonts: &Fonts, at: usize, column: &Column) -> (f32, f32) {
    let set = match column.kind {
        ColumnKind::Head => Type::bold(TABLE.size),
        _ => TABLE,
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
    (least + 2.0 * PAD + 0.5, most.max(least) + 2.0 * PAD + 0.5)
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
