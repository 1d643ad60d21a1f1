//! The label drawn as SVG at its own size, and the type size that the law asks for.

use std::fmt::Write as _;
use std::sync::OnceLock;

use ttf_parser::Face;

use super::duties::{Advice, Duties, Missing};
use super::net_contents::MILLIMETRES_PER_INCH;
use super::{Label, printed};
use crate::formula::{Market, Variant};
use crate::label_info::LabelInfo;

const REGULAR: &[u8] = include_bytes!("../../../../assets/fonts/NotoSans-Regular.ttf");

/// Margin around the text, mm.
const MARGIN_MM: f64 = 2.0;
/// Distance of base lines as a multiple of the type size.
const LEADING: f64 = 1.2;
/// Type size of the product name as a multiple of that of the text.
const NAME_SCALE: f64 = 1.8;

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
        }),
        Some(_) => {}
        None => duties.advice.push(Advice {
            text: format!(
                "No smallest type size is given; the letters, {chosen:.2} mm high here, must be easily legible."
            ),
            ground: "Regulation (EC) No 1223/2009, Article 19(1)".to_owned(),
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
    /// Height that the text needs, mm.
    pub needs_height_mm: f64,
    /// Whether the text fits the label.
    pub fits: bool,
}

/// A line of text with its type size and base line.
struct Set<'a> {
    text: &'a str,
    size_mm: f64,
}

/// Draws a label at its size, with the text height the maker chose.
///
/// Widths come from the font that is shipped; where the program that opens the file has
/// another, lines may run a little shorter or longer.
pub fn draw(label: &Label, info: &LabelInfo) -> Drawing {
    let size = info.x_height_mm / x_height();
    let width = (info.width_mm - 2.0 * MARGIN_MM).max(1.0);
    let mut lines: Vec<(String, f64)> = Vec::new();
    for section in &label.sections {
        let scale = if section.title == "Name" {
            NAME_SCALE
        } else {
            1.0
        };
        for paragraph in printed(section).lines() {
            for line in wrap(paragraph, width, size * scale) {
                lines.push((line, size * scale));
            }
        }
    }
    let list = format!("Ingredients: {}", label.ingredients.text());
    for line in wrap(&list, width, size) {
        lines.push((line, size));
    }
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\">\n<title>{}</title>\n<rect width=\"{w}\" height=\"{h}\" fill=\"white\" stroke=\"black\" stroke-width=\"0.1\"/>\n<g font-family=\"Noto Sans, sans-serif\" fill=\"black\">\n",
        escape(label.sections.first().map_or("", |s| s.text.as_str())),
        w = info.width_mm,
        h = info.height_mm,
    );
    let mut y = MARGIN_MM;
    for set in lines.iter().map(|(text, size_mm)| Set {
        text,
        size_mm: *size_mm,
    }) {
        y += set.size_mm * LEADING;
        let _ = writeln!(
            svg,
            "<text x=\"{MARGIN_MM}\" y=\"{y:.3}\" font-size=\"{:.3}\">{}</text>",
            set.size_mm,
            escape(set.text)
        );
    }
    svg.push_str("</g>\n</svg>\n");
    let needs_height_mm = y + MARGIN_MM;
    Drawing {
        svg,
        needs_height_mm,
        fits: needs_height_mm <= info.height_mm + 1e-9,
    }
}

fn face() -> Option<&'static Face<'static>> {
    static FACE: OnceLock<Option<Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| Face::parse(REGULAR, 0).ok()).as_ref()
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

/// Width of a text, mm.
fn width_of(text: &str, size_mm: f64) -> f64 {
    let Some(face) = face() else {
        return text.chars().count() as f64 * size_mm * 0.55;
    };
    let units: u32 = text
        .chars()
        .map(|c| {
            face.glyph_index(c)
                .and_then(|g| face.glyph_hor_advance(g))
                .map_or(0, u32::from)
        })
        .sum();
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

fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
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
