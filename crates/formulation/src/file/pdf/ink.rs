//! How what stands on a page is drawn.

use std::sync::Arc;

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Rect};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, Stroke};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

use super::{Fonts, Mark, PdfError, Style, Which};
use crate::fonts::{BOLD, Face, REGULAR, SYMBOLS};

/// Width of the line around a box to tick, in points.
const BOX: f32 = 0.8;

/// The fonts as they are embedded, and those that measure them.
pub(super) struct Ink<'a> {
    regular: Font,
    bold: Font,
    symbols: Font,
    fonts: &'a Fonts,
}

impl<'a> Ink<'a> {
    /// Reads the fonts to embed.
    pub(super) fn new(fonts: &'a Fonts) -> Result<Self, PdfError> {
        let font = |data: &[u8]| {
            Font::new(Arc::new(data.to_vec()).into(), 0).ok_or_else(super::unreadable)
        };
        Ok(Self {
            regular: font(&REGULAR)?,
            bold: font(&BOLD)?,
            symbols: font(&SYMBOLS)?,
            fonts,
        })
    }

    /// Draws a mark.
    pub(super) fn draw(&self, surface: &mut Surface<'_>, mark: &Mark) {
        match mark {
            Mark::Text { x, y, style, text } => self.text(surface, (*x, *y), *style, text),
            Mark::Line {
                from,
                to,
                width,
                grey,
            } => outlined(surface, open(&[*from, *to]), *width, *grey),
            Mark::Box { x, y, side } => {
                outlined(surface, rectangle(*x, *y, *side, *side), BOX, 0);
            }
            Mark::Outline {
                corners,
                width,
                grey,
            } => outlined(surface, closed(corners), *width, *grey),
            Mark::Shade { x, y, w, h, grey } => filled(surface, rectangle(*x, *y, *w, *h), *grey),
        }
    }

    fn text(&self, surface: &mut Surface<'_>, (mut x, y): (f32, f32), style: Style, text: &str) {
        surface.set_stroke(None);
        surface.set_fill(Some(fill(style.grey)));
        for (which, run) in self.runs(text, style.bold) {
            let font = match which {
                Which::Regular => &self.regular,
                Which::Bold => &self.bold,
                Which::Symbols => &self.symbols,
            };
            let glyphs = glyphs(self.fonts.face(which), run);
            let at = Point::from_xy(x, y);
            surface.draw_glyphs(at, &glyphs, font.clone(), run, style.size, false);
            x += self.fonts.width(run, style);
        }
    }

    /// Parts of a text that are drawn with one font.
    fn runs<'t>(&self, text: &'t str, bold: bool) -> Vec<(Which, &'t str)> {
        let mut runs: Vec<(Which, usize, usize)> = Vec::new();
        for (i, c) in text.char_indices() {
            let which = self.fonts.which(c, bold);
            let end = i + c.len_utf8();
            match runs.last_mut() {
                Some((last, _, until)) if *last == which => *until = end,
                _ => runs.push((which, i, end)),
            }
        }
        runs.into_iter()
            .filter_map(|(which, from, to)| Some((which, text.get(from..to)?)))
            .collect()
    }
}

/// The glyphs of a text, each with the characters it stands for, so that they can be copied.
fn glyphs(face: &Face, text: &str) -> Vec<KrillaGlyph> {
    let set = face.set(text);
    let ends = |place: usize, begins: usize| {
        let mut from = set.iter().skip(place).map(|g| g.begins);
        from.find(|&next| next != begins).unwrap_or(text.len())
    };
    let share = |units: i32| units as f32 / face.units_per_em();
    (0..)
        .zip(&set)
        .map(|(place, glyph)| {
            let ([across, up], [right, raised]) = (glyph.advance, glyph.offset);
            KrillaGlyph::new(
                GlyphId::new(glyph.id),
                share(across),
                share(right),
                share(raised),
                share(up),
                glyph.begins..ends(place, glyph.begins),
                None,
            )
        })
        .collect()
}

fn through(points: &[(f32, f32)]) -> PathBuilder {
    let mut path = PathBuilder::new();
    for (place, (x, y)) in points.iter().enumerate() {
        if place == 0 {
            path.move_to(*x, *y);
        } else {
            path.line_to(*x, *y);
        }
    }
    path
}

fn open(points: &[(f32, f32)]) -> Option<Path> {
    through(points).finish()
}

fn closed(points: &[(f32, f32)]) -> Option<Path> {
    let mut path = through(points);
    path.close();
    path.finish()
}

fn rectangle(x: f32, y: f32, w: f32, h: f32) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x, y, w, h)?);
    path.finish()
}

fn outlined(surface: &mut Surface<'_>, path: Option<Path>, width: f32, grey: u8) {
    let Some(path) = path else { return };
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        paint: rgb::Color::new(grey, grey, grey).into(),
        width,
        ..Stroke::default()
    }));
    surface.draw_path(&path);
}

fn filled(surface: &mut Surface<'_>, path: Option<Path>, grey: u8) {
    let Some(path) = path else { return };
    surface.set_stroke(None);
    surface.set_fill(Some(fill(grey)));
    surface.draw_path(&path);
}

fn fill(grey: u8) -> Fill {
    Fill {
        paint: rgb::Color::new(grey, grey, grey).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::default(),
    }
}
