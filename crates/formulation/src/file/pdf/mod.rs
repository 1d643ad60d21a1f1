//! Pages of text, tables and boxes as PDF, with fonts embedded.
//!
//! A [`Flow`] collects what is to be drawn from the top of the page down and breaks pages;
//! [`Flow::finish`] turns it into a file. Lengths are in points, 1/72 inch, from the upper
//! left corner. The same content gives the same bytes.

mod ink;

use krilla::Document;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;

use self::ink::Ink;

use crate::batch::workshop::Paper;
use crate::fonts::{BOLD, Face, REGULAR, SYMBOLS};
use crate::plain_words::unparted;
use crate::progress::Progress;

/// How a text looks.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Style {
    /// Size of the letters in points.
    pub size: f32,
    /// Bold instead of regular.
    pub bold: bool,
    /// Darkness: 0 is black, 255 white.
    pub grey: u8,
}

impl Style {
    /// Black regular text.
    pub const fn plain(size: f32) -> Self {
        Self {
            size,
            bold: false,
            grey: 0,
        }
    }
    /// Black bold text.
    pub const fn bold(size: f32) -> Self {
        Self {
            size,
            bold: true,
            grey: 0,
        }
    }
    /// Grey regular text, still dark enough to read in print.
    pub const fn quiet(size: f32) -> Self {
        Self {
            size,
            bold: false,
            grey: 80,
        }
    }
    /// Distance from one line to the next.
    fn leading(self) -> f32 {
        self.size * 1.32
    }
}

/// Side to which the text of a cell is set.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Align {
    /// To the left.
    Left,
    /// To the right, for numbers.
    Right,
}

/// What a cell of a row holds.
#[derive(Clone, PartialEq, Debug)]
pub enum PaperCell {
    /// Paragraphs one below the other, each in its style.
    Text(Vec<(String, Style)>, Align),
    /// A box to tick.
    Tick,
    /// A line to write on.
    Field,
    /// Nothing.
    Empty,
}

impl PaperCell {
    /// One paragraph, set left.
    pub fn text(text: impl Into<String>, style: Style) -> Self {
        Self::Text(vec![(text.into(), style)], Align::Left)
    }
    /// One paragraph, set right.
    pub fn number(text: impl Into<String>, style: Style) -> Self {
        Self::Text(vec![(text.into(), style)], Align::Right)
    }
}

#[derive(Clone, PartialEq, Debug)]
enum Mark {
    Text {
        x: f32,
        y: f32,
        style: Style,
        text: String,
    },
    Line {
        from: (f32, f32),
        to: (f32, f32),
        width: f32,
        grey: u8,
    },
    Box {
        x: f32,
        y: f32,
        side: f32,
    },
    Shade {
        x: f32,
        y: f32,
        w: f32,
        h: f32,
        grey: u8,
    },
    Outline {
        corners: Vec<(f32, f32)>,
        width: f32,
        grey: u8,
    },
}

/// Why a PDF could not be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the PDF could not be made: {0}")]
pub struct PdfError(String);

/// What is printed on, and who waits for it.
#[derive(Clone, Copy, Debug)]
pub struct Printing<'p> {
    paper: Paper,
    /// Told of each page; where it is stopped, the rest is left undone.
    progress: Option<&'p Progress>,
}

impl From<Paper> for Printing<'_> {
    fn from(paper: Paper) -> Self {
        Self {
            paper,
            progress: None,
        }
    }
}

impl<'p> Printing<'p> {
    /// Printing that somebody waits for and may stop.
    pub const fn watched(paper: Paper, progress: &'p Progress) -> Self {
        Self {
            paper,
            progress: Some(progress),
        }
    }

    /// Width and height of the paper in points.
    pub(super) const fn paper_size(self) -> (f32, f32) {
        self.paper.size()
    }

    /// Whether nobody waits for it any more.
    fn is_stopped(self) -> bool {
        self.progress.is_some_and(Progress::is_stopped)
    }

    /// Notes that so many of all pages are done; an error where nobody waits for more.
    fn tell(self, done: usize, all: usize) -> Result<(), PdfError> {
        match self.progress {
            Some(progress) if !progress.tell(done, all) => {
                Err(PdfError("it was stopped".to_owned()))
            }
            _ => Ok(()),
        }
    }
}

fn unreadable() -> PdfError {
    PdfError("a font cannot be read".to_owned())
}

struct Fonts {
    regular: Face,
    bold: Face,
    symbols: Face,
}

/// Which of the embedded fonts draws a character.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    Regular,
    Bold,
    Symbols,
}

impl Fonts {
    fn new() -> Result<Self, PdfError> {
        let face = |data: &'static [u8]| Face::read(data).ok_or_else(unreadable);
        Ok(Self {
            regular: face(&REGULAR)?,
            bold: face(&BOLD)?,
            symbols: face(&SYMBOLS)?,
        })
    }

    const fn face(&self, which: Which) -> &Face {
        match which {
            Which::Regular => &self.regular,
            Which::Bold => &self.bold,
            Which::Symbols => &self.symbols,
        }
    }

    /// The font that has a character; the text font, with its box for the unknown, if none.
    fn which(&self, c: char, bold: bool) -> Which {
        let text = if bold { Which::Bold } else { Which::Regular };
        if !self.face(text).has(c) && self.symbols.has(c) {
            Which::Symbols
        } else {
            text
        }
    }

    fn width(&self, text: &str, style: Style) -> f32 {
        text.chars()
            .map(|c| {
                let face = self.face(self.which(c, style.bold));
                face.width(c) * style.size / face.units_per_em()
            })
            .sum()
    }

    /// Breaks a text into lines no wider than `width`, at blanks; a word too long for a
    /// line is broken where it must.
    fn wrap(&self, text: &str, style: Style, width: f32) -> Vec<String> {
        let mut lines = Vec::new();
        for paragraph in text.split('\n') {
            let mut line = String::new();
            for word in unbroken(paragraph) {
                let word = word.as_str();
                let longer = if line.is_empty() {
                    word.to_owned()
                } else {
                    format!("{line} {word}")
                };
                if self.width(&longer, style) <= width {
                    line = longer;
                    continue;
                }
                if !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                }
                for c in word.chars() {
                    line.push(c);
                    if self.width(&line, style) > width && line.chars().count() > 1 {
                        line.pop();
                        lines.push(std::mem::take(&mut line));
                        line.push(c);
                    }
                }
            }
            lines.push(line);
        }
        lines
    }
}

/// The words of a text, a number and its unit taken as one.
fn unbroken(text: &str) -> Vec<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let text = unparted(&words.join(" "));
    text.split(' ').map(|w| w.replace('\u{A0}', " ")).collect()
}

/// A document that grows from the top of its first page down.
pub struct Flow<'p> {
    printing: Printing<'p>,
    fonts: Fonts,
    /// Width and height of a page.
    size: (f32, f32),
    pages: Vec<Vec<Mark>>,
    y: f32,
    /// Head of the table that is going on, drawn again on every new page.
    head: Option<(Vec<PaperCell>, Vec<f32>)>,
}

impl std::fmt::Debug for Flow<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Flow")
            .field("size", &self.size)
            .field("pages", &self.pages.len())
            .finish_non_exhaustive()
    }
}

/// Free edge left and right.
const SIDE: f32 = 40.0;
/// Free edge above.
const TOP: f32 = 40.0;
/// Free edge below, with the footer in it.
const BOTTOM: f32 = 52.0;
/// Distance between the cells of a row.
const GAP: f32 = 8.0;
/// Side of a box to tick.
const TICK: f32 = 8.5;

impl<'p> Flow<'p> {
    /// An empty document.
    pub fn new(on: impl Into<Printing<'p>>) -> Result<Self, PdfError> {
        let on = on.into();
        Self::sized(on, on.paper.size())
    }

    /// An empty document on paper laid crosswise.
    pub(super) fn crosswise(on: impl Into<Printing<'p>>) -> Result<Self, PdfError> {
        let on = on.into();
        let (width, height) = on.paper.size();
        Self::sized(on, (height, width))
    }

    fn sized(printing: Printing<'p>, size: (f32, f32)) -> Result<Self, PdfError> {
        Ok(Self {
            printing,
            fonts: Fonts::new()?,
            size,
            pages: vec![Vec::new()],
            y: TOP,
            head: None,
        })
    }

    /// Begins a table with a shaded head, which is repeated on every page it runs over and
    /// stands on the page of its first row.
    pub fn begin_table(&mut self, cells: Vec<PaperCell>, widths: &[f32]) {
        self.need(60.0);
        self.row(&cells, widths, true);
        self.head = Some((cells, widths.to_vec()));
    }

    /// Ends the table.
    pub fn end_table(&mut self) {
        self.head = None;
    }

    /// Width between the edges.
    pub fn width(&self) -> f32 {
        self.size.0 - 2.0 * SIDE
    }

    /// Every text that is laid out, in order.
    #[cfg(test)]
    pub(super) fn texts(&self) -> Vec<String> {
        let marks = self.pages.iter().flatten();
        marks
            .filter_map(|mark| match mark {
                Mark::Text { text, .. } => Some(text.clone()),
                _ => None,
            })
            .collect()
    }

    /// How many pages there are.
    pub(super) const fn page_count(&self) -> usize {
        self.pages.len()
    }

    /// What share of the last of several pages is filled; 1 if there is one only.
    pub(super) fn last_page_filled(&self) -> f32 {
        if self.pages.len() < 2 {
            return 1.0;
        }
        (self.y - TOP) / (self.bottom() - TOP)
    }

    /// Goes on to a new page.
    pub(super) fn new_page(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP;
    }

    /// Text from a place on its base line.
    pub(super) fn text(&mut self, (x, y): (f32, f32), text: &str, style: Style) {
        self.put(Mark::Text {
            x,
            y,
            style,
            text: text.to_owned(),
        });
    }

    /// A line around a box, to cut along.
    pub(super) fn frame(&mut self, (x, y): (f32, f32), (w, h): (f32, f32)) {
        let corners = vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)];
        self.put(Mark::Outline {
            corners,
            width: 0.25,
            grey: 150,
        });
    }

    /// A closed line through corners.
    pub(super) fn outline(&mut self, corners: Vec<(f32, f32)>, width: f32) {
        self.put(Mark::Outline {
            corners,
            width,
            grey: 0,
        });
    }

    fn put(&mut self, mark: Mark) {
        // Nobody waits for it any more.
        if self.printing.is_stopped() {
            return;
        }
        if let Some(page) = self.pages.last_mut() {
            page.push(mark);
        }
    }

    /// Goes on to a new page unless this much room is left.
    pub fn need(&mut self, height: f32) {
        if self.y + height > self.bottom() && self.y > TOP {
            self.pages.push(Vec::new());
            self.y = TOP;
            if let Some((cells, widths)) = self.head.take() {
                self.row(&cells, &widths, true);
                self.head = Some((cells, widths));
            }
        }
    }

    /// Leaves room.
    pub fn space(&mut self, height: f32) {
        if self.y > TOP {
            self.y += height;
        }
    }

    /// A paragraph over the whole width, moved in from the left.
    pub fn paragraph(&mut self, text: &str, style: Style, indent: f32) {
        for line in self.fonts.wrap(text, style, self.width() - indent) {
            self.need(style.leading());
            self.text_at(SIDE + indent, self.y, &line, style);
            self.y += style.leading();
        }
    }

    /// A heading with a rule below, kept together with what follows it.
    pub fn heading(&mut self, text: &str, size: f32) {
        self.space(size * 0.9);
        self.need(size * 5.0);
        self.paragraph(text, Style::bold(size), 0.0);
        self.rule(0.8);
        self.y += 3.0;
    }

    /// A rule over the whole width.
    pub fn rule(&mut self, width: f32) {
        let right = SIDE + self.width();
        self.put(Mark::Line {
            from: (SIDE, self.y),
            to: (right, self.y),
            width,
            grey: if width < 0.5 { 170 } else { 0 },
        });
        self.y += width + 1.0;
    }

    /// A row of cells; `widths` are shares of the whole width and need not add up to 1.
    /// A row stays on one page unless it is taller than a page.
    pub fn row(&mut self, cells: &[PaperCell], widths: &[f32], shaded: bool) {
        let total: f32 = widths.iter().sum();
        let columns: Vec<f32> = widths.iter().map(|w| w / total * self.width()).collect();
        let last = columns.len().saturating_sub(1);
        // The gap belongs to the column left of it, so that equal shares stand below each other.
        let room = |n: usize, column: f32| if n < last { column - GAP } else { column };
        let mut laid: Vec<Vec<(String, Style)>> = Vec::with_capacity(cells.len());
        for (n, (cell, &column)) in cells.iter().zip(&columns).enumerate() {
            let PaperCell::Text(paragraphs, _) = cell else {
                laid.push(Vec::new());
                continue;
            };
            let lines = paragraphs.iter().flat_map(|(text, style)| {
                let lines = self.fonts.wrap(text, *style, room(n, column));
                lines.into_iter().map(|line| (line, *style))
            });
            laid.push(lines.collect());
        }
        let text_height =
            |lines: &[(String, Style)]| -> f32 { lines.iter().map(|(_, s)| s.leading()).sum() };
        let mut first = true;
        while first || laid.iter().any(|lines| !lines.is_empty()) {
            let tallest = laid.iter().map(|l| text_height(l)).fold(0.0, f32::max);
            let fixed = cells.iter().map(|cell| match cell {
                PaperCell::Tick if first => TICK + 3.0,
                PaperCell::Field if first => 15.0,
                _ => 0.0,
            });
            let height = fixed.fold(tallest, f32::max) + 4.0;
            self.need(height.min(self.page_height()));
            let height = height.min(self.bottom() - self.y);
            let mut part = Vec::with_capacity(laid.len());
            for lines in &mut laid {
                let mut left = height - 4.0 + 0.01;
                let fits = lines.iter().take_while(|(_, style)| {
                    left -= style.leading();
                    left >= 0.0
                });
                // A line taller than the page does not exist, but must not loop.
                let count = fits.count().max(usize::from(!first));
                part.push(lines.drain(..count.min(lines.len())).collect());
            }
            self.part_of_row(cells, &columns, part, height, shaded, first);
            first = false;
        }
    }

    /// Height between the edges.
    fn page_height(&self) -> f32 {
        self.bottom() - TOP
    }

    /// Where a page ends.
    fn bottom(&self) -> f32 {
        self.size.1 - BOTTOM
    }

    /// Draws what of a row stands on one page; boxes and fields stand in its first part.
    fn part_of_row(
        &mut self,
        cells: &[PaperCell],
        columns: &[f32],
        laid: Vec<Vec<(String, Style)>>,
        height: f32,
        shaded: bool,
        first: bool,
    ) {
        if shaded {
            self.put(Mark::Shade {
                x: SIDE - 3.0,
                y: self.y,
                w: self.width() + 6.0,
                h: height,
                grey: 238,
            });
        }
        let top = self.y + 2.0;
        let mut x = SIDE;
        let last = columns.len().saturating_sub(1);
        for (n, ((cell, column), lines)) in cells.iter().zip(columns).zip(laid).enumerate() {
            let width = if n < last { column - GAP } else { *column };
            match cell {
                PaperCell::Text(_, align) => {
                    let mut y = top;
                    for (line, style) in lines {
                        let left = match align {
                            Align::Left => x,
                            Align::Right => x + width - self.fonts.width(&line, style),
                        };
                        self.text_at(left, y, &line, style);
                        y += style.leading();
                    }
                }
                PaperCell::Tick if first => self.put(Mark::Box {
                    x: x + 0.5,
                    y: top + 1.5,
                    side: TICK,
                }),
                PaperCell::Field if first => {
                    let y = top + 12.0;
                    self.put(Mark::Line {
                        from: (x, y),
                        to: (x + width, y),
                        width: 0.5,
                        grey: 110,
                    });
                }
                PaperCell::Tick | PaperCell::Field | PaperCell::Empty => {}
            }
            x += column;
        }
        self.y += height;
    }

    /// Empty lines to write on.
    pub fn lines_to_write(&mut self, count: usize) {
        for _ in 0..count {
            self.row(&[PaperCell::Field], &[1.0], false);
            self.space(4.0);
        }
    }

    /// Text whose upper edge is at `y`.
    fn text_at(&mut self, x: f32, y: f32, text: &str, style: Style) {
        if !text.is_empty() {
            self.put(Mark::Text {
                x,
                y: y + style.size,
                style,
                text: text.to_owned(),
            });
        }
    }

    /// The file. Every page gets `footer` and its number at the foot.
    pub fn finish(self, title: &str, footer: &str) -> Result<Vec<u8>, PdfError> {
        let ink = Ink::new(&self.fonts)?;
        let (width, height) = self.size;
        let count = self.pages.len();
        let mut document = Document::new();
        for (number, marks) in self.pages.iter().enumerate() {
            self.printing.tell(number, count)?;
            let settings = PageSettings::from_wh(width, height)
                .ok_or_else(|| PdfError("the paper has no size".to_owned()))?;
            let mut page = document.start_page_with(settings);
            let mut surface = page.surface();
            let foot = self.foot(footer, &format!("Page {} of {count}", number + 1));
            for mark in marks.iter().chain(&foot) {
                ink.draw(&mut surface, mark);
            }
            surface.finish();
            page.finish();
        }
        // The fonts are cut to size last.
        self.printing.tell(count, count)?;
        document.set_metadata(
            Metadata::new()
                .title(title.to_owned())
                .language("en".to_owned())
                .creator("Phasewright".to_owned()),
        );
        document.finish().map_err(|e| PdfError(format!("{e:?}")))
    }

    /// What stands below each page: the footer, in two lines at most, and which page it is.
    fn foot(&self, footer: &str, numbering: &str) -> Vec<Mark> {
        let style = Style::quiet(7.5);
        let (width, height) = self.size;
        let y = height - BOTTOM + 24.0;
        let right = width - SIDE - self.fonts.width(numbering, style);
        let words = |x: f32, line: usize, text: String| Mark::Text {
            x,
            y: y + line as f32 * style.leading(),
            style,
            text,
        };
        let lines = self.fonts.wrap(footer, style, right - SIDE - GAP);
        let lines = lines.into_iter().take(2).enumerate();
        let mut marks: Vec<Mark> = lines.map(|(n, text)| words(SIDE, n, text)).collect();
        marks.push(words(right, 0, numbering.to_owned()));
        marks
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_wraps_within_its_width() {
        let fonts = Fonts::new().unwrap();
        let style = Style::plain(10.0);
        let text = "Stir until no dry lump is left, before any water goes in";
        let lines = fonts.wrap(text, style, 100.0);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|l| fonts.width(l, style) <= 100.0));
        assert_eq!(lines.join(" "), text);
        let long = fonts.wrap(&"x".repeat(200), style, 100.0);
        assert_eq!(long.concat(), "x".repeat(200));
        assert!(long.iter().all(|l| fonts.width(l, style) <= 100.0));
    }

    #[test]
    fn what_nobody_waits_for_is_not_printed() {
        let progress = Progress::default();
        let print = || {
            let mut flow = Flow::new(Printing::watched(Paper::A4, &progress)).unwrap();
            for _ in 0..200 {
                flow.paragraph("Water", Style::plain(10.0), 0.0);
            }
            flow.finish("Test", "foot")
        };
        assert!(print().is_ok());
        let pages = progress.all();
        assert!(pages.is_some_and(|all| all > 1), "{pages:?}");
        assert_eq!(Some(progress.done()), pages);
        progress.stop();
        assert_eq!(print(), Err(PdfError("it was stopped".to_owned())));
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(
            unbroken("take 12.50 g, then 5 % of 3 parts"),
            ["take", "12.50 g,", "then", "5 %", "of", "3", "parts"]
        );
    }

    #[test]
    fn a_row_taller_than_a_page_loses_nothing() {
        let mut flow = Flow::new(Paper::UsLetter).unwrap();
        let words: Vec<String> = (0..2000).map(|n| format!("word{n}")).collect();
        let cells = [
            PaperCell::Tick,
            PaperCell::text(words.join(" "), Style::plain(10.0)),
        ];
        flow.row(&cells, &[0.1, 0.9], false);
        assert!(flow.pages.len() > 1);
        let end = flow.size.1 - BOTTOM;
        let mut drawn = Vec::new();
        for mark in flow.pages.iter().flatten() {
            if let Mark::Text { y, text, .. } = mark {
                assert!(*y <= end, "{text} at {y}");
                drawn.extend(text.split(' ').map(str::to_owned));
            }
        }
        assert_eq!(drawn, words);
    }

    #[test]
    fn every_character_of_the_sheets_has_a_glyph() {
        let fonts = Fonts::new().unwrap();
        for c in "äöüßéñçøåæčżŁ µ·°%±≤≥–—“”‘’…€£×−½²³αβΩ→".chars()
        {
            for bold in [false, true] {
                let which = fonts.which(c, bold);
                assert!(fonts.face(which).has(c), "{c} bold {bold}");
            }
        }
    }

    #[test]
    fn pages_break_and_the_same_content_gives_the_same_bytes() {
        let make = || {
            let mut flow = Flow::new(Paper::UsLetter).unwrap();
            for i in 0..80 {
                let style = Style::plain(10.0);
                let cells = [
                    PaperCell::Tick,
                    PaperCell::text(format!("Row {i} → µ"), style),
                    PaperCell::number("12.5 g", style),
                    PaperCell::Field,
                ];
                flow.row(&cells, &[0.05, 0.5, 0.2, 0.25], i % 2 == 0);
            }
            assert!(flow.pages.len() > 1);
            flow.finish("Rows", "footer").unwrap()
        };
        let bytes = make();
        assert!(bytes.starts_with(b"%PDF-"));
        assert_eq!(bytes, make());
    }
}
