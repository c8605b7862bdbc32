//! Blocks of a sheet as chunks of a page.

use super::flow::{Chunk, Ink, Mark, PlacedMark};
use super::fonts::{Fonts, SMALL, Type};
use super::paper::{MM, points};
use super::table::{BETWEEN, Setter};
use super::tags::{Node, Role, Tags};
use crate::diagnostic::Level;
use crate::report::document::{
    Block, Chapter, Document, FindingBlock, Heading, TableBlock, with_marks,
};
use crate::report::figure::Figure;

/// Paragraphs.
const BODY: Type = Type::regular(8.3);
/// Lines of a file.
const LINES: Type = Type::mono(7.6);
/// How far the second line of a sentence is set in.
const HANGING: f32 = 12.0;
/// Between two pictures.
const GUTTER: f32 = 14.0;
/// A picture alone takes no more than these shares of the width and of a page's height.
const ALONE: f32 = 0.45;
const ALONE_TALL: f32 = 0.24;
/// A row of pictures takes no more than this share of a page's height.
const TALL: f32 = 0.32;

/// Eight centimetres, at which every picture can still be read.
const NARROWEST: f32 = 80.0 * MM;

/// A table that may stand beside something else.
const fn is_small(table: &TableBlock) -> bool {
    table.captioned && table.whole && table.boxes.is_empty()
}

/// A chart has nearly a page.
const CHART_TALL: f32 = 0.92;

/// Makes chunks of blocks.
pub(super) struct Composer<'a> {
    fonts: &'a Fonts,
    /// Of the frame.
    width: f32,
    height: f32,
    tags: Tags,
    figures: Vec<&'a Figure>,
    chunks: Vec<Chunk>,
}

/// A sheet in chunks.
pub(super) struct Composed<'a> {
    pub(super) chunks: Vec<Chunk>,
    pub(super) tags: Tags,
    /// The pictures that the marks number.
    pub(super) figures: Vec<&'a Figure>,
}

/// A text's looks.
#[derive(Clone, Copy)]
struct TextLook {
    set: Type,
    ink: Ink,
    /// Where its first line begins, and the others.
    left: (f32, f32),
    space: f32,
}

impl TextLook {
    const fn new(set: Type, space: f32) -> Self {
        Self {
            set,
            ink: Ink::Text,
            left: (0.0, 0.0),
            space,
        }
    }

    const fn ink(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    const fn left(self, first: f32, others: f32) -> Self {
        Self {
            left: (first, others),
            ..self
        }
    }
}

/// All chunks of a sheet for a frame of this width and height.
///
/// `chapters` are the pages on which the chapters begin, listed below the first one where there are
/// several; how many there are decides on the room they take, not the numbers.
pub(super) fn compose<'a>(
    sheet: &'a Document,
    fonts: &'a Fonts,
    (width, height): (f32, f32),
    chapters: &[(String, usize)],
) -> Composed<'a> {
    let mut composer = Composer {
        fonts,
        width,
        height,
        tags: Tags::default(),
        figures: Vec::new(),
        chunks: Vec::new(),
    };
    composer.title(sheet);
    for (number, part) in sheet.parts.iter().enumerate() {
        composer.part(part);
        if number == 0 {
            composer.contents(chapters.get(1..).unwrap_or_default());
        }
    }
    Composed {
        chunks: composer.chunks,
        tags: composer.tags,
        figures: composer.figures,
    }
}

impl<'a> Composer<'a> {
    fn title(&mut self, sheet: &Document) {
        let node = self.tags.add(None, Role::Heading(1, sheet.title.clone()));
        let title = self.text(&sheet.title, TextLook::new(Type::bold(17.0), 0.0), node);
        self.chunks.push(Chunk {
            with_next: true,
            ..title
        });
        let node = self.tags.add(None, Role::Paragraph);
        let look = TextLook::new(BODY, 2.0).ink(Ink::Soft);
        let subtitle = self.text(&sheet.subtitle, look, node);
        self.chunks.push(Chunk {
            with_next: true,
            ..subtitle
        });
    }

    fn part(&mut self, part: &'a Chapter) {
        let node = self.tags.add(None, Role::Heading(2, part.title.clone()));
        let look = TextLook::new(Type::bold(13.0), 16.0);
        let mut heading = self.text(&part.title, look, node);
        heading.height += 4.0;
        let y = heading.height - 1.0;
        let mark = Mark::Line {
            from: (0.0, y),
            to: (self.width, y),
            width: 1.2,
            ink: Ink::Accent,
        };
        heading.marks.push(PlacedMark { mark, node: None });
        self.chunks.push(Chunk {
            with_next: true,
            new_page: part.new_page,
            bookmark: Some((1, part.title.clone())),
            ..heading
        });
        let mut blocks = part.blocks.as_slice();
        while let Some((block, rest)) = blocks.split_first() {
            blocks = rest;
            let together = match (block, rest.split_first()) {
                (Block::Table(left), Some((Block::Table(right), _))) => {
                    self.two_tables(left, right)
                }
                (Block::Table(left), Some((Block::Figures(right), _))) => {
                    self.table_and_figure(left, right)
                }
                _ => false,
            };
            if together {
                blocks = rest.get(1..).unwrap_or_default();
            } else {
                self.block(block);
                // What is said of a table stays with it.
                if matches!(
                    (block, rest.first()),
                    (Block::Small(_), Some(Block::Table(_)))
                ) && let Some(last) = self.chunks.last_mut()
                {
                    last.with_next = true;
                }
            }
        }
    }

    /// A small table beside one picture; false where there is no room for it.
    fn table_and_figure(&mut self, table: &TableBlock, figures: &'a [Figure]) -> bool {
        let [figure] = figures else { return false };
        let setter = Setter::narrow(table, self.fonts, self.width);
        let at = setter.width() + BETWEEN;
        let room = (self.width - at).min(self.width * ALONE);
        if !is_small(table) || room < NARROWEST {
            return false;
        }
        let one = Chunk::stacked(setter.chunks(&mut self.tags, self.height));
        let placed = self.picture(figure, (0.0, room), self.height * ALONE_TALL);
        let height = match placed.mark {
            Mark::Picture { height, .. } => height,
            _ => 0.0,
        };
        let picture = Chunk {
            height,
            marks: vec![placed],
            ..Chunk::default()
        };
        self.chunks.push(one.beside(picture, at));
        true
    }

    /// Two small tables beside one another; false where the page is too narrow.
    fn two_tables(&mut self, left: &TableBlock, right: &TableBlock) -> bool {
        if !is_small(left) || !is_small(right) {
            return false;
        }
        let left = Setter::narrow(left, self.fonts, self.width);
        let right = Setter::narrow(right, self.fonts, self.width);
        let at = left.width() + BETWEEN;
        if at + right.width() > self.width {
            return false;
        }
        let one = Chunk::stacked(left.chunks(&mut self.tags, self.height));
        let other = Chunk::stacked(right.chunks(&mut self.tags, self.height));
        self.chunks.push(one.beside(other, at));
        true
    }

    /// Where to find the other chapters.
    fn contents(&mut self, chapters: &[(String, usize)]) {
        for (i, (words, page)) in chapters.iter().enumerate() {
            let node = self.tags.add(None, Role::Paragraph);
            let space = if i == 0 { 14.0 } else { 0.0 };
            let mut chunk = self.text(words, TextLook::new(BODY, space), node);
            let number = page.to_string();
            let mark = Mark::Text {
                x: 200.0 - self.fonts.width(&number, BODY),
                y: BODY.rise(),
                set: BODY,
                ink: Ink::Text,
                text: number,
            };
            chunk.marks.push(PlacedMark {
                mark,
                node: Some(node),
            });
            self.chunks.push(chunk);
        }
    }

    fn block(&mut self, block: &'a Block) {
        match block {
            Block::Heading(heading) => self.heading(heading),
            Block::Text(text) => self.paragraph(text, TextLook::new(BODY, 5.0)),
            Block::Small(text) => self.paragraph(text, TextLook::new(SMALL, 3.0).ink(Ink::Soft)),
            Block::Sentences(sentences) => self.sentences(sentences),
            Block::Terms(terms) => self.terms(terms),
            Block::Numbered { texts, room } => self.numbered(texts, *room),
            Block::Table(table) => self.table(table),
            Block::Steps(steps) => match &steps.table {
                Some(table) => self.table(table),
                None => self.sentences(&steps.sentences()),
            },
            Block::Figures(figures) => self.pictures(figures),
            Block::Chart(chart) => self.chart(chart),
            Block::Findings(findings) => self.findings(findings),
            Block::Lines(lines) => self.lines(lines),
            Block::Amended(pieces) => self.lines(&with_marks(pieces)),
        }
    }

    fn table(&mut self, table: &TableBlock) {
        let setter = Setter::new(table, self.fonts, self.width);
        let chunks = setter.chunks(&mut self.tags, self.height);
        self.chunks.extend(chunks);
    }

    /// A text from the frame's left edge on, in one chunk.
    fn text(&self, text: &str, look: TextLook, node: Node) -> Chunk {
        let leading = look.set.leading();
        let narrowest = self.width - look.left.0.max(look.left.1);
        let lines = self.fonts.lines(text, look.set, narrowest);
        let marks = lines.iter().enumerate().map(|(i, line)| PlacedMark {
            mark: Mark::Text {
                x: if i == 0 { look.left.0 } else { look.left.1 },
                y: leading * i as f32 + look.set.rise(),
                set: look.set,
                ink: look.ink,
                text: line.clone(),
            },
            node: Some(node),
        });
        Chunk {
            space: look.space,
            height: leading * lines.len() as f32,
            marks: marks.collect(),
            ..Chunk::default()
        }
    }

    fn paragraph(&mut self, text: &str, look: TextLook) {
        let node = self.tags.add(None, Role::Paragraph);
        let chunk = self.text(text, look, node);
        self.chunks.push(chunk);
    }

    fn heading(&mut self, heading: &Heading) {
        let node = self
            .tags
            .add(None, Role::Heading(heading.level, heading.text.clone()));
        let look = match heading.level {
            3 => TextLook::new(Type::bold(11.0), 10.0).ink(Ink::Accent),
            _ => TextLook::new(Type::bold(BODY.size), 7.0),
        };
        let chunk = self.text(&heading.text, look, node);
        self.chunks.push(Chunk {
            with_next: true,
            bookmark: heading.id.as_ref().map(|_| (2, heading.text.clone())),
            ..chunk
        });
    }

    fn sentences(&mut self, sentences: &[String]) {
        let list = self.tags.add(None, Role::List { numbered: false });
        for sentence in sentences {
            let node = self.tags.add(Some(list), Role::Item);
            let chunk = self.text(sentence, TextLook::new(BODY, 2.0).left(0.0, HANGING), node);
            self.chunks.push(chunk);
        }
    }

    /// Those of a few words three beside one another, the others below them.
    fn terms(&mut self, terms: &[(String, String)]) {
        let list = self.tags.add(None, Role::List { numbered: false });
        let widest = terms
            .iter()
            .map(|(word, _)| self.fonts.width(word, Type::bold(SMALL.size)))
            .fold(0.0_f32, f32::max);
        let (third, left) = (self.width / 3.0, widest + 8.0);
        let fits = |meaning: &str| self.fonts.width(meaning, SMALL) <= third - left - GUTTER;
        let (short, long): (Vec<_>, Vec<_>) = terms.iter().partition(|(_, text)| fits(text));
        let rows = short.chunks(3).chain(long.chunks(1));
        for terms in rows {
            let mut row = Chunk {
                space: 1.0,
                ..Chunk::default()
            };
            let room = match terms {
                [(_, meaning)] if !fits(meaning) => self.width,
                _ => third - GUTTER,
            };
            for (i, (word, meaning)) in terms.iter().copied().enumerate() {
                let node = self.tags.add(Some(list), Role::Item);
                let x = third * i as f32;
                let mut put = |x: f32, y: f32, set: Type, text: String| {
                    let mark = Mark::Text {
                        x,
                        y,
                        set,
                        ink: Ink::Text,
                        text,
                    };
                    row.marks.push(PlacedMark {
                        mark,
                        node: Some(node),
                    });
                };
                put(x, SMALL.rise(), Type::bold(SMALL.size), word.clone());
                let lines = self.fonts.lines(meaning, SMALL, room - left);
                let leading = SMALL.leading();
                row.height = row.height.max(leading * lines.len() as f32);
                for (n, line) in lines.into_iter().enumerate() {
                    put(x + left, leading * n as f32 + SMALL.rise(), SMALL, line);
                }
            }
            self.chunks.push(row);
        }
    }

    fn numbered(&mut self, texts: &[String], room: bool) {
        let list = self.tags.add(None, Role::List { numbered: true });
        for (number, text) in (1..).zip(texts) {
            let node = self.tags.add(Some(list), Role::Item);
            let mut chunk = self.text(text, TextLook::new(BODY, 8.0).left(18.0, 18.0), node);
            let mark = Mark::Text {
                x: 0.0,
                y: BODY.rise(),
                set: Type::bold(BODY.size),
                ink: Ink::Text,
                text: format!("{number}."),
            };
            chunk.marks.insert(
                0,
                PlacedMark {
                    mark,
                    node: Some(node),
                },
            );
            chunk.stretch = room;
            self.chunks.push(chunk);
        }
    }

    /// Two beside one another; one alone is set larger.
    fn pictures(&mut self, figures: &'a [Figure]) {
        let (width, beside) = match figures.len() {
            1 => (self.width * ALONE, 1),
            _ => ((self.width - GUTTER) / 2.0, 2),
        };
        for row in figures.chunks(beside) {
            let mut chunk = Chunk {
                space: 9.0,
                ..Chunk::default()
            };
            let tallest = self.height * if beside == 1 { ALONE_TALL } else { TALL };
            for (i, figure) in row.iter().enumerate() {
                let x = (width + GUTTER) * i as f32;
                let placed = self.picture(figure, (x, width), tallest);
                if let Mark::Picture { height, .. } = placed.mark {
                    chunk.height = chunk.height.max(height);
                }
                chunk.marks.push(placed);
            }
            self.chunks.push(chunk);
        }
    }

    /// As wide as the frame, unless a page is too short for it.
    fn chart(&mut self, figure: &'a Figure) {
        let placed = self.picture(figure, (0.0, self.width), self.height * CHART_TALL);
        let mut chunk = Chunk {
            space: 9.0,
            ..Chunk::default()
        };
        if let Mark::Picture { height, .. } = placed.mark {
            chunk.height = height;
        }
        chunk.marks.push(placed);
        self.chunks.push(chunk);
    }

    fn picture(&mut self, figure: &'a Figure, (x, width): (f32, f32), tallest: f32) -> PlacedMark {
        let node = self
            .tags
            .add(None, Role::Picture(figure.description.clone()));
        let number = self.figures.len();
        self.figures.push(figure);
        let ratio = points(figure.height / figure.width.max(1.0));
        let height = (width * ratio).min(tallest);
        let mark = Mark::Picture {
            x,
            y: 0.0,
            width: height / ratio,
            height,
            number,
        };
        PlacedMark {
            mark,
            node: Some(node),
        }
    }

    fn findings(&mut self, findings: &[FindingBlock]) {
        if findings.is_empty() {
            self.paragraph("Nothing was found.", TextLook::new(BODY, 5.0));
            return;
        }
        let list = self.tags.add(None, Role::List { numbered: false });
        for finding in findings {
            let node = self.tags.add(Some(list), Role::Item);
            let chunk = self.finding(finding, node);
            self.chunks.push(chunk);
        }
    }

    fn finding(&self, finding: &FindingBlock, node: Node) -> Chunk {
        let about = if finding.about.is_empty() {
            String::new()
        } else {
            format!(", {}", finding.about)
        };
        let name = format!("{}: {}{about}", finding.level.word(), finding.code);
        let mut said = finding.message.clone();
        if let Some(next) = &finding.next {
            said = format!("{} Next: {next}", stopped(&said));
        }
        if let Some(source) = finding.source {
            said = format!("{} Source: {source}.", stopped(&said));
        }
        // A note is read by whoever wants it.
        let texts = match finding.level {
            Level::Note => vec![(format!("{name}. {said}"), SMALL)],
            _ => vec![(name, Type::bold(SMALL.size)), (said, BODY)],
        };
        let mut all = Chunk {
            space: 3.0,
            ..Chunk::default()
        };
        for (text, set) in texts {
            let look = TextLook::new(set, 0.0).left(8.0, 8.0);
            let chunk = self.text(&text, look, node);
            let top = all.height;
            all.marks
                .extend(chunk.marks.into_iter().map(|placed| placed.lower(top)));
            all.height += chunk.height;
        }
        let mark = Mark::Line {
            from: (1.0, 1.0),
            to: (1.0, all.height),
            width: 2.0,
            ink: Ink::Rule,
        };
        all.marks.push(PlacedMark { mark, node: None });
        all
    }

    /// A text as it is: its line breaks and its spaces. A line that is too long is broken at a space.
    fn lines(&mut self, lines: &str) {
        let node = self.tags.add(None, Role::Paragraph);
        for (i, line) in lines.lines().enumerate() {
            let marks = if self.fonts.width(line, LINES) <= self.width {
                vec![Self::as_it_is(line, node)]
            } else {
                let indent = line.chars().take_while(|letter| *letter == ' ').count();
                let left = indent as f32 * self.fonts.width(" ", LINES);
                let look = TextLook::new(LINES, 0.0).left(left, left + 18.0);
                self.text(line, look, node).marks
            };
            let height = if line.trim().is_empty() {
                LINES.leading() * 0.6
            } else {
                LINES.leading() * marks.len() as f32
            };
            self.chunks.push(Chunk {
                space: if i == 0 { 8.0 } else { 0.0 },
                height,
                marks,
                ..Chunk::default()
            });
        }
    }

    fn as_it_is(line: &str, node: Node) -> PlacedMark {
        let mark = Mark::Text {
            x: 0.0,
            y: LINES.rise(),
            set: LINES,
            ink: Ink::Text,
            text: line.trim_end().to_owned(),
        };
        PlacedMark {
            mark,
            node: Some(node),
        }
    }
}

/// A sentence with its full stop.
fn stopped(said: &str) -> String {
    let ends = said.ends_with(['.', '!', '?', ':']);
    if ends {
        said.to_owned()
    } else {
        format!("{said}.")
    }
}
