//! The label drawn as SVG at its own size, and the type size that the law asks for.

use std::fmt::Write as _;
use std::sync::OnceLock;

use skrifa::outline::OutlinePen;

use super::duties::{Advice, Duties, Missing, SectionKind, Stated, article};
use super::net_contents::{MILLIMETRES_PER_INCH, least_figure_height_mm};
use super::{Label, printed};
use crate::fonts::{Face, REGULAR};
use crate::formula::{Market, Variant};
use crate::harmless;
use crate::label_info::LabelInfo;

/// Margin around the text, mm.
const MARGIN_MM: f64 = 2.0;
/// Distance of base lines as a multiple of the type size.
const LEADING: f64 = 1.25;
/// What hangs below the base line, as a share of the type size; 0.25 is that of most sans-serif
/// faces.
const HANGS: f64 = 0.25;
/// Type size of the product name as a multiple of that of the text.
const NAME_SCALE: f64 = 1.8;
/// Room of the open jar before its words, as a multiple of the type size.
const JAR_ROOM: f64 = 1.2;

/// An open jar, the symbol that goes with the period after opening (Regulation (EC) No
/// 1223/2009, Annex VII, point 2); our own drawing: the outlines of the jar and of its lid, in
/// units of the type size, y downwards from the base line.
pub const OPEN_JAR: [&[(f32, f32)]; 2] = [
    &[
        (0.08, -0.5),
        (0.92, -0.5),
        (0.92, -0.42),
        (0.85, -0.42),
        (0.85, 0.0),
        (0.15, 0.0),
        (0.15, -0.42),
        (0.08, -0.42),
    ],
    &[(0.1, -0.62), (0.86, -0.94), (0.9, -0.85), (0.14, -0.53)],
];

/// The open jar as the data of an SVG path.
fn open_jar() -> String {
    let mut path = String::new();
    for outline in OPEN_JAR {
        for (place, (x, y)) in outline.iter().enumerate() {
            let _ = write!(path, "{}{x} {y}", if place == 0 { 'M' } else { 'L' });
        }
        path.push('Z');
    }
    path
}

/// Smallest height of the letters of an ingredient list, mm, where the law gives one.
///
/// United States: 1/16 inch (21 CFR 701.3(b)). European Union and United Kingdom: the
/// law asks for indelible, easily legible and visible letters and gives no size.
pub fn least_letter_height_mm(market: Market) -> Option<f64> {
    match market {
        Market::Us => Some(MILLIMETRES_PER_INCH / 16.0),
        Market::Eu | Market::Uk => None,
    }
}

/// Compares the chosen height of letters with the smallest the law allows.
pub(super) fn check_type_size(variant: &Variant, market: Market, duties: &mut Duties) {
    let chosen = variant.label.x_height_mm;
    match least_letter_height_mm(market) {
        Some(least) if chosen < least - 1e-9 => duties.missing.push(Missing {
            what: format!(
                "The letters of the ingredient list are {chosen:.2} mm high; make the small letters at least {least:.2} mm (1/16 inch) high"
            ),
            ground: "21 CFR 701.3(b)".to_owned(),
            required: true,
            stated: Some(Stated::Letters),
        }),
        Some(_) => {}
        None => duties.advice.push(Advice {
            text: format!(
                "No smallest type size is given; the letters, {chosen:.2} mm high here, must be easily legible."
            ),
            ground: article(market, ""),
        }),
    }
    if market == Market::Us
        && let Some(surface) = variant.label.surface_cm2
        && surface < 12.0 * 6.4516
    {
        duties.advice.push(Advice {
            text: "Packs with less than 12 square inches for labelling may carry the list on a leaflet, tag or padded sheet under the conditions of the section.".to_owned(),
            ground: "21 CFR 701.3(i)".to_owned(),
        });
    }
}

/// A drawn label.
#[derive(Clone, PartialEq, Debug)]
pub struct Drawing {
    /// The SVG file.
    pub svg: String,
    /// Its lines, for those who draw it themselves.
    pub lines: Vec<SetLine>,
    /// Height that the text needs, mm.
    pub needs_height_mm: f64,
    /// Height of the drawing, mm: that of the label, or more where the text needs it, so that
    /// nothing is ever cut off.
    pub height_mm: f64,
    /// Whether the text fits the label.
    pub fits: bool,
}

/// A line of text as it is drawn.
#[derive(Clone, PartialEq, Debug)]
pub struct SetLine {
    /// The words.
    pub text: String,
    /// Type size, mm.
    pub size_mm: f64,
    /// Left end of the words, mm from the left.
    pub x_mm: f64,
    /// Base line, mm from the top.
    pub y_mm: f64,
    /// Width of the words, mm.
    pub width_mm: f64,
    /// The symbol of the open jar stands before it.
    pub jar: bool,
}

/// Left end of the open jar before a line, mm from the left.
pub fn jar_left(line: &SetLine) -> f64 {
    line.x_mm - JAR_ROOM * line.size_mm
}

/// Draws a label at its size, with the text height the maker chose.
///
/// Letters are drawn as outlines of the font that is shipped, so that their size is the
/// chosen one wherever the file is opened; the words stand in the description. The net
/// contents are drawn at least as high as the law asks.
pub fn draw(label: &Label, info: &LabelInfo) -> Drawing {
    let size = info.x_height_mm / x_height();
    let width = (info.width_mm - 2.0 * MARGIN_MM).max(1.0);
    let figures = info
        .net_contents
        .and_then(|net| least_figure_height_mm(net, label.market, info.panel_area_cm2))
        .map_or(size, |least| size.max(least / capital_height()));
    let mut lines: Vec<SetLine> = Vec::new();
    let mut y = MARGIN_MM;
    let mut above = 0.0_f64;
    let mut set = |text: String, size: f64, jar: bool| {
        // The tails of larger letters above stay clear of this line.
        y += size * LEADING + HANGS * (above - size).max(0.0);
        above = size;
        lines.push(SetLine {
            width_mm: width_of(&text, size),
            text,
            size_mm: size,
            x_mm: MARGIN_MM + if jar { JAR_ROOM * size } else { 0.0 },
            y_mm: y,
            jar,
        });
    };
    for section in &label.sections {
        let (text, size, jar) = match section.kind {
            SectionKind::Name => (printed(section), size * NAME_SCALE, false),
            SectionKind::NetContents => (printed(section), figures, false),
            SectionKind::AfterOpening => (section.text.clone(), size, true),
            SectionKind::Border
            | SectionKind::Function
            | SectionKind::Directions
            | SectionKind::Warning
            | SectionKind::Caution
            | SectionKind::BestBefore
            | SectionKind::BestBeforeDay
            | SectionKind::Batch
            | SectionKind::ResponsiblePerson
            | SectionKind::MadeBy
            | SectionKind::Contact
            | SectionKind::Country => (printed(section), size, false),
        };
        let room = if jar { width - JAR_ROOM * size } else { width };
        for paragraph in text.lines() {
            for text in wrap(paragraph, room.max(1.0), size) {
                set(text, size, jar);
            }
        }
    }
    let list = format!("Ingredients: {}", label.ingredients.text());
    for text in wrap(&list, width, size) {
        set(text, size, false);
    }
    let needs_height_mm = y + MARGIN_MM;
    let fits = needs_height_mm <= info.height_mm + 1e-9;
    let height_mm = if fits {
        info.height_mm
    } else {
        // To the tenth of a millimetre, for those who cut it.
        (needs_height_mm * 10.0).ceil() / 10.0
    };
    let mut body = String::new();
    for line in &lines {
        if line.jar {
            let _ = writeln!(
                body,
                "<path transform=\"translate({:.3} {:.3}) scale({:.4})\" fill=\"none\" stroke=\"black\" stroke-width=\"0.08\" d=\"{}\"/>",
                jar_left(line),
                line.y_mm,
                line.size_mm,
                open_jar()
            );
        }
        set_line(&mut body, &line.text, line.size_mm, line.x_mm, line.y_mm);
    }
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n<desc>{}</desc>\n<rect width=\"{w}\" height=\"{h}\" fill=\"white\" stroke=\"black\" stroke-width=\"0.1\"/>\n<g fill=\"black\">\n",
        escape(label.sections.first().map_or("", |s| s.text.as_str())),
        escape(&label.text()),
        w = info.width_mm,
        h = height_mm,
    );
    svg.push_str(&body);
    svg.push_str("</g>\n</svg>\n");
    Drawing {
        svg,
        lines,
        needs_height_mm,
        height_mm,
        fits,
    }
}

/// Sets one line as one path, in font units scaled to the type size.
fn set_line(body: &mut String, text: &str, size_mm: f64, x: f64, y: f64) {
    let Some(face) = face() else {
        let _ = writeln!(
            body,
            "<text x=\"{x:.3}\" y=\"{y:.3}\" font-size=\"{size_mm:.3}\">{}</text>",
            escape(text)
        );
        return;
    };
    let scale = size_mm / f64::from(face.units_per_em());
    let mut outline = Outline::default();
    for c in text.chars() {
        face.draw(c, &mut outline);
        outline.x += face.width(c);
    }
    let _ = writeln!(
        body,
        "<path transform=\"translate({x:.3} {y:.3}) scale({scale:.6} -{scale:.6})\" d=\"{}\"/>",
        outline.path
    );
}

/// Glyphs one after the other as the data of an SVG path, in font units.
#[derive(Default)]
struct Outline {
    path: String,
    /// Where the next glyph begins.
    x: f32,
}

impl OutlinePen for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.path, "M{} {y}", self.x + x);
    }
    fn line_to(&mut self, x: f32, y: f32) {
        let _ = write!(self.path, "L{} {y}", self.x + x);
    }
    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let _ = write!(self.path, "Q{} {y1} {} {y}", self.x + x1, self.x + x);
    }
    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let _ = write!(
            self.path,
            "C{} {y1} {} {y2} {} {y}",
            self.x + x1,
            self.x + x2,
            self.x + x
        );
    }
    fn close(&mut self) {
        self.path.push('Z');
    }
}

fn face() -> Option<&'static Face> {
    static FACE: OnceLock<Option<Face>> = OnceLock::new();
    FACE.get_or_init(|| Face::read(&REGULAR)).as_ref()
}

/// Height of the small x as a share of the type size; 0.53 is that of most sans-serif
/// faces and is taken if the font does not tell.
fn x_height() -> f64 {
    face()
        .and_then(|f| {
            f.x_height()
                .map(|x| f64::from(x) / f64::from(f.units_per_em()))
        })
        .unwrap_or(0.53)
}

/// Height of capitals and figures as a share of the type size; 0.7 is that of most
/// sans-serif faces.
fn capital_height() -> f64 {
    face()
        .and_then(|f| {
            f.capital_height()
                .map(|h| f64::from(h) / f64::from(f.units_per_em()))
        })
        .unwrap_or(0.7)
}

/// Where the base line stands in the height of a line of the font that is shipped, as a share
/// from the top; 0.78 is that of most sans-serif faces.
pub fn baseline_share() -> f64 {
    face().map_or(0.78, |f| {
        let (up, down) = f.above_and_below();
        f64::from(up) / f64::from(up - down)
    })
}

/// Width of a text, mm.
fn width_of(text: &str, size_mm: f64) -> f64 {
    let Some(face) = face() else {
        return text.chars().count() as f64 * size_mm * 0.55;
    };
    let units: f32 = text.chars().map(|c| face.width(c)).sum();
    f64::from(units) / f64::from(face.units_per_em()) * size_mm
}

/// Breaks a paragraph at blanks into lines no wider than `width`; a word that is wider
/// alone is broken after a slash or hyphen, or where it must be.
fn wrap(paragraph: &str, width: f64, size_mm: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in paragraph.split_whitespace() {
        let tried = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width_of(&tried, size_mm) <= width {
            line = tried;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if width_of(&line, size_mm) > width && line.chars().count() > 1 {
                line.pop();
                let cut = line.rfind(['/', '-']).map_or(line.len(), |at| at + 1);
                let rest = line.split_off(cut);
                lines.push(std::mem::replace(&mut line, rest));
                line.push(c);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Words of the label in one line, written out for the drawing.
fn escape(text: &str) -> String {
    let acts = |c: char| c.is_control() || harmless::acts(c);
    harmless::markup(&text.replace(acts, " "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_keep_within_the_width() {
        let text =
            "Aqua, Sodium Laureth Sulfate, Acrylates/C10-30 Alkyl Acrylate Crosspolymer, Parfum";
        for width in [8.0, 15.0, 40.0, 200.0] {
            let lines = wrap(text, width, 2.0);
            for line in &lines {
                assert!(
                    width_of(line, 2.0) <= width || line.chars().count() == 1,
                    "{line}"
                );
            }
            let joined: String = lines.concat().replace(' ', "");
            assert_eq!(joined, text.replace(' ', ""));
        }
    }

    #[test]
    fn the_jar_is_drawn_as_two_outlines() {
        assert_eq!(open_jar().matches('M').count(), 2);
        assert_eq!(open_jar().matches('Z').count(), 2);
    }

    #[test]
    fn a_sixteenth_of_an_inch_is_the_least_in_the_united_states() {
        // 21 CFR 701.3(b): letters not less than 1/16 inch, 1.5875 mm.
        assert!((least_letter_height_mm(Market::Us).unwrap() - 1.5875).abs() < 1e-12);
        assert_eq!(least_letter_height_mm(Market::Eu), None);
    }

    #[test]
    fn text_is_escaped() {
        assert_eq!(escape("D&C <Red>\u{7}"), "D&amp;C &lt;Red&gt; ");
    }
}
