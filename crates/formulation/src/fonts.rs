//! The letters of papers, pictures of labels and the window: Noto Sans, SIL Open Font
//! License 1.1, which stands beside them in `assets/fonts`.

use std::sync::LazyLock;

use harfrust::{Direction, ShapeOptions, ShaperData, UnicodeBuffer};
use packed::packed;
use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::{GlyphMetrics, Metrics};
use skrifa::outline::{DrawSettings, OutlineGlyphCollection, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

/// Noto Sans Regular.
pub static REGULAR: LazyLock<Vec<u8>> =
    LazyLock::new(|| packed!("fonts/NotoSans-Regular.ttf").bytes());
/// Noto Sans Bold.
pub static BOLD: LazyLock<Vec<u8>> = LazyLock::new(|| packed!("fonts/NotoSans-Bold.ttf").bytes());
/// Signs that Noto Sans lacks, out of Noto Sans Math.
pub static SYMBOLS: LazyLock<Vec<u8>> =
    LazyLock::new(|| packed!("fonts/NotoSansMath-Symbols.ttf").bytes());

/// A typeface to measure, set and draw text with. Lengths are in its own units, of which
/// [`Face::units_per_em`] make the type size.
pub(crate) struct Face {
    font: FontRef<'static>,
    shaper: ShaperData,
    characters: Charmap<'static>,
    lengths: Metrics,
    widths: GlyphMetrics<'static>,
    outlines: OutlineGlyphCollection<'static>,
}

/// A glyph of a text that was set.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct SetGlyph {
    /// Its number in the typeface.
    pub(crate) id: u32,
    /// Byte of the text where the characters begin that it stands for.
    pub(crate) begins: usize,
    /// How far from it the next one stands, across and up.
    pub(crate) advance: [i32; 2],
    /// How far it is moved from its place, across and up.
    pub(crate) offset: [i32; 2],
}

impl Face {
    /// Reads a typeface; none where the data are not one.
    pub(crate) fn read(data: &'static [u8]) -> Option<Self> {
        let font = FontRef::new(data).ok()?;
        let (size, place) = (Size::unscaled(), LocationRef::default());
        Some(Self {
            shaper: ShaperData::new(&font),
            characters: font.charmap(),
            lengths: font.metrics(size, place),
            widths: font.glyph_metrics(size, place),
            outlines: font.outline_glyphs(),
            font,
        })
    }

    /// Units in the type size.
    pub(crate) fn units_per_em(&self) -> f32 {
        f32::from(self.lengths.units_per_em)
    }

    /// Height of the small x; none where the typeface does not tell.
    pub(crate) const fn x_height(&self) -> Option<f32> {
        self.lengths.x_height
    }

    /// Height of capitals and figures; none where the typeface does not tell.
    pub(crate) const fn capital_height(&self) -> Option<f32> {
        self.lengths.cap_height
    }

    /// How far letters stand above the base line, and how far, below zero, they hang under it.
    pub(crate) const fn above_and_below(&self) -> (f32, f32) {
        (self.lengths.ascent, self.lengths.descent)
    }

    /// Whether it has a character.
    pub(crate) fn has(&self, c: char) -> bool {
        self.characters.map(c).is_some()
    }

    /// Width of a character; that of the box for the unknown where it lacks it.
    pub(crate) fn width(&self, c: char) -> f32 {
        self.widths.advance_width(self.glyph(c)).unwrap_or_default()
    }

    /// Draws a character; the box for the unknown where it lacks it.
    pub(crate) fn draw(&self, c: char, pen: &mut impl OutlinePen) {
        if let Some(outline) = self.outlines.get(self.glyph(c)) {
            let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
            let _ = outline.draw(settings, pen);
        }
    }

    /// Sets a text from left to right, each pair of letters as close as the typeface has it.
    pub(crate) fn set(&self, text: &str) -> Vec<SetGlyph> {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.guess_segment_properties();
        buffer.set_direction(Direction::LeftToRight);
        let shaper = self.shaper.shaper(&self.font).build();
        let set = shaper.shape(buffer, ShapeOptions::new());
        std::iter::zip(set.glyph_infos(), set.glyph_positions())
            .map(|(glyph, at)| SetGlyph {
                id: glyph.glyph_id,
                begins: glyph.cluster as usize,
                advance: [at.x_advance, at.y_advance],
                offset: [at.x_offset, at.y_offset],
            })
            .collect()
    }

    fn glyph(&self, c: char) -> GlyphId {
        self.characters.map(c).unwrap_or(GlyphId::NOTDEF)
    }
}
