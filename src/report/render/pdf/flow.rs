//! Chunks that are not split, put on pages from the top down.

use std::rc::Rc;

use super::fonts::Type;
use super::tags::Node;

/// What a mark is drawn with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ink {
    /// Text.
    Text,
    /// What is said beside it.
    Soft,
    /// Headings.
    Accent,
    /// Rules and frames.
    Rule,
}

/// Something drawn; places are in points from the top left corner of what it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Mark {
    /// A line of text; `y` is where its letters stand.
    Text {
        x: f32,
        y: f32,
        set: Type,
        ink: Ink,
        text: String,
    },
    /// A straight line.
    Line {
        from: (f32, f32),
        to: (f32, f32),
        width: f32,
        ink: Ink,
    },
    /// A box to tick.
    Tick { x: f32, y: f32, side: f32 },
    /// A picture, by its number.
    Picture {
        x: f32,
        y: f32,
        width: f32,
        height: f32,
        number: usize,
    },
}

impl Mark {
    fn shifted(mut self, right: f32, down: f32) -> Self {
        match &mut self {
            Self::Text { x, y, .. } | Self::Tick { x, y, .. } | Self::Picture { x, y, .. } => {
                *x += right;
                *y += down;
            }
            Self::Line { from, to, .. } => {
                for end in [from, to] {
                    end.0 += right;
                    end.1 += down;
                }
            }
        }
        self
    }
}

/// A mark and what it means; without a meaning it is an ornament.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlacedMark {
    pub(super) mark: Mark,
    pub(super) node: Option<Node>,
}

impl PlacedMark {
    /// The same further down.
    pub(super) fn lower(self, down: f32) -> Self {
        Self {
            mark: self.mark.shifted(0.0, down),
            node: self.node,
        }
    }

    fn further_right(self, right: f32) -> Self {
        Self {
            mark: self.mark.shifted(right, 0.0),
            node: self.node,
        }
    }
}

/// What is drawn again at the top when a table goes on on the next page.
#[derive(Clone, Debug, Default)]
pub(super) struct TableHead {
    pub(super) height: f32,
    pub(super) marks: Vec<Mark>,
}

/// A piece that stays on one page.
#[derive(Clone, Debug, Default)]
pub(super) struct Chunk {
    /// Left free above it, but for the top of a page.
    pub(super) space: f32,
    pub(super) height: f32,
    pub(super) marks: Vec<PlacedMark>,
    /// True when it is not the last on its page.
    pub(super) with_next: bool,
    /// True when it is the first on its page.
    pub(super) new_page: bool,
    /// True when what is left of the page is shared out below such chunks.
    pub(super) stretch: bool,
    pub(super) repeated: Option<Rc<TableHead>>,
    /// For the reader's list of chapters: depth from 1, words.
    pub(super) bookmark: Option<(u8, String)>,
}

impl Chunk {
    /// Several as one that is not split.
    pub(super) fn stacked(chunks: Vec<Self>) -> Self {
        let mut all = Self::default();
        for (i, chunk) in chunks.into_iter().enumerate() {
            if i == 0 {
                all.space = chunk.space;
            } else {
                all.height += chunk.space;
            }
            let top = all.height;
            let marks = chunk.marks.into_iter();
            all.marks.extend(marks.map(|placed| placed.lower(top)));
            all.height += chunk.height;
        }
        all
    }

    /// Another beside it, so far to the right.
    pub(super) fn beside(mut self, other: Self, right: f32) -> Self {
        let marks = other.marks.into_iter();
        self.marks
            .extend(marks.map(|placed| placed.further_right(right)));
        Self {
            space: self.space.max(other.space),
            height: self.height.max(other.height),
            ..self
        }
    }
}

/// A page and what stands on it, in points from the top left corner of its frame.
#[derive(Clone, Debug, Default)]
pub(super) struct Page {
    pub(super) marks: Vec<PlacedMark>,
    /// Chapters and sections that begin here: depth, words, place.
    pub(super) bookmarks: Vec<(u8, String, f32)>,
    /// The chapter that its first mark belongs to.
    pub(super) chapter: String,
    used: f32,
}

/// The page on which each chapter begins, counted from 1.
pub(super) fn chapters(pages: &[Page]) -> Vec<(String, usize)> {
    let numbered = (1..).zip(pages);
    let begun = numbered.flat_map(|(number, page)| {
        let chapters = page.bookmarks.iter().filter(|(depth, ..)| *depth == 1);
        chapters.map(move |(_, words, _)| (words.clone(), number))
    });
    begun.collect()
}

impl Page {
    fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    fn room_for(&self, height: f32, frame: f32) -> bool {
        self.used + height <= frame + 0.01
    }

    fn put(&mut self, chunk: Chunk) {
        if let (true, Some(repeated)) = (self.is_empty(), &chunk.repeated) {
            let top = self.used;
            let marks = repeated.marks.iter().cloned();
            self.marks.extend(marks.map(|mark| PlacedMark {
                mark: mark.shifted(0.0, top),
                node: None,
            }));
            self.used += repeated.height;
        }
        if !self.is_empty() {
            self.used += chunk.space;
        }
        let top = self.used;
        if let Some((depth, words)) = chunk.bookmark {
            self.bookmarks.push((depth, words, top));
        }
        self.marks
            .extend(chunk.marks.into_iter().map(|placed| placed.lower(top)));
        self.used += chunk.height;
    }
}

/// Puts chunks on pages whose frame is this high.
///
/// A chunk with `with_next` goes with those after it, up to the first without; together they begin
/// a new page where the old one has no room for them, unless no page has.
pub(super) fn pages(chunks: Vec<Chunk>, frame: f32) -> Vec<Page> {
    let mut pages = Vec::new();
    let mut page = Page::default();
    for unit in units(stretched(chunks, frame)) {
        let height = height_of(&unit);
        let begins = unit.first().is_some_and(|chunk| chunk.new_page);
        if !page.is_empty() && (begins || !page.room_for(height, frame)) {
            pages.push(std::mem::take(&mut page));
        }
        for chunk in unit {
            if !page.is_empty() && !page.room_for(chunk.space + chunk.height, frame) {
                pages.push(std::mem::take(&mut page));
            }
            page.put(chunk);
        }
    }
    pages.push(page);
    name_chapters(&mut pages);
    pages
}

fn name_chapters(pages: &mut [Page]) {
    let mut chapter = String::new();
    for page in pages {
        let begins = |(depth, _, at): &&(u8, String, f32)| *depth == 1 && *at < 1.0;
        if let Some((_, words, _)) = page.bookmarks.iter().find(begins) {
            chapter.clone_from(words);
        }
        page.chapter.clone_from(&chapter);
        if let Some((_, words, _)) = page.bookmarks.iter().rfind(|(depth, ..)| *depth == 1) {
            chapter.clone_from(words);
        }
    }
}

fn height_of(chunks: &[Chunk]) -> f32 {
    chunks.iter().map(|chunk| chunk.space + chunk.height).sum()
}

/// Chunks that stay together.
fn units(chunks: Vec<Chunk>) -> Vec<Vec<Chunk>> {
    let mut units: Vec<Vec<Chunk>> = Vec::new();
    let mut goes_on = false;
    for chunk in chunks {
        let with_next = chunk.with_next;
        match units.last_mut() {
            Some(unit) if goes_on && !chunk.new_page => unit.push(chunk),
            _ => units.push(vec![chunk]),
        }
        goes_on = with_next;
    }
    units
}

/// What is left of a page is shared out among its chunks that stretch.
fn stretched(mut chunks: Vec<Chunk>, frame: f32) -> Vec<Chunk> {
    let parts = chunks.chunk_by_mut(|_, next| !next.new_page);
    for part in parts {
        let left = frame - height_of(part);
        let count = part.iter().filter(|chunk| chunk.stretch).count();
        if count > 0 && left > 0.0 {
            let each = left / count as f32;
            for chunk in part.iter_mut().filter(|chunk| chunk.stretch) {
                chunk.height += each;
            }
        }
    }
    chunks
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chunk(height: f32, number: usize) -> Chunk {
        let mark = Mark::Picture {
            x: 0.0,
            y: 0.0,
            width: 1.0,
            height,
            number,
        };
        Chunk {
            height,
            marks: vec![PlacedMark { mark, node: None }],
            ..Chunk::default()
        }
    }

    /// The numbers of the chunks on each page.
    fn numbers(pages: &[Page]) -> Vec<Vec<usize>> {
        let on = |page: &Page| {
            let numbers = page.marks.iter().filter_map(|placed| match placed.mark {
                Mark::Picture { number, .. } => Some(number),
                _ => None,
            });
            numbers.collect()
        };
        pages.iter().map(on).collect()
    }

    #[test]
    fn a_chunk_that_does_not_fit_begins_a_page() {
        let chunks = vec![chunk(60.0, 0), chunk(30.0, 1), chunk(20.0, 2)];
        assert_eq!(numbers(&pages(chunks, 100.0)), [vec![0, 1], vec![2]]);
    }

    #[test]
    fn a_heading_goes_with_what_follows() {
        let heading = Chunk {
            with_next: true,
            ..chunk(10.0, 1)
        };
        let chunks = vec![chunk(60.0, 0), heading, chunk(40.0, 2)];
        assert_eq!(numbers(&pages(chunks, 100.0)), [vec![0], vec![1, 2]]);
    }

    #[test]
    fn what_no_page_holds_is_still_drawn() {
        let heading = Chunk {
            with_next: true,
            ..chunk(10.0, 0)
        };
        let chunks = vec![heading, chunk(140.0, 1), chunk(5.0, 2)];
        assert_eq!(numbers(&pages(chunks, 100.0)), [vec![0], vec![1], vec![2]]);
    }

    #[test]
    fn a_repeated_head_comes_again_on_the_next_page_only() {
        let repeated = Some(Rc::new(TableHead {
            height: 10.0,
            marks: vec![Mark::Tick {
                x: 0.0,
                y: 0.0,
                side: 1.0,
            }],
        }));
        let row = |n| Chunk {
            repeated: repeated.clone(),
            ..chunk(30.0, n)
        };
        let laid = pages(vec![chunk(10.0, 9), row(0), row(1), row(2), row(3)], 75.0);
        assert_eq!(numbers(&laid), [vec![9, 0, 1], vec![2, 3]]);
        let ticks = |page: &Page| {
            let ticks = page
                .marks
                .iter()
                .filter(|placed| matches!(placed.mark, Mark::Tick { .. }));
            ticks.count()
        };
        assert_eq!(laid.iter().map(ticks).collect::<Vec<_>>(), [0, 1]);
    }

    #[test]
    fn room_for_answers_fills_the_page() {
        let question = |n| Chunk {
            stretch: true,
            ..chunk(20.0, n)
        };
        let answers = Chunk {
            new_page: true,
            ..chunk(10.0, 3)
        };
        let laid = pages(
            vec![chunk(10.0, 0), question(1), question(2), answers],
            100.0,
        );
        assert_eq!(numbers(&laid), [vec![0, 1, 2], vec![3]]);
        assert!((laid[0].used - 100.0).abs() < 0.01);
    }
}
