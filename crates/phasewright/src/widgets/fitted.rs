//! A name that is too long for its place, cut within: raw materials of one kind often differ
//! only in the strength at the end of their name.

use std::borrow::Cow;

use eframe::egui::{FontId, Label, Response, Role, TextStyle, Ui, WidgetInfo, WidgetText};
use formulation::plain_words::unparted;

/// Letters that must be left of the beginning for a cut within to make sense.
const LEAST: usize = 5;

/// A name as it fits into a width: whole, or with a part left out before its last words that
/// hold figures. What cannot be fitted so stays whole, to be cut at its end.
pub fn fitted<'a>(ui: &Ui, name: &'a str, font: &FontId, width: f32) -> Cow<'a, str> {
    let wide = |text: String| {
        let colour = ui.visuals().text_color();
        ui.painter()
            .layout_no_wrap(text, font.clone(), colour)
            .size()
            .x
    };
    if wide(name.to_owned()) <= width {
        return Cow::Borrowed(name);
    }
    let (head, tail) = parted(name);
    if tail.is_empty() {
        return Cow::Borrowed(name);
    }
    let letters: Vec<(usize, char)> = head.char_indices().collect();
    let cut = |count: usize| {
        let end = letters.get(count).map_or(head.len(), |(at, _)| *at);
        let kept = head.get(..end).unwrap_or(head).trim_end();
        format!("{kept}… {tail}")
    };
    // The more letters, the wider: the last count that fits.
    let counts: Vec<usize> = (LEAST..letters.len()).collect();
    let fit = counts.partition_point(|count| wide(cut(*count)) <= width);
    match fit.checked_sub(1).and_then(|place| counts.get(place)) {
        Some(count) => Cow::Owned(cut(*count)),
        None => Cow::Borrowed(name),
    }
}

/// A name parted before its last words of figures.
fn parted(name: &str) -> (&str, &str) {
    let mut at = name.len();
    let mut figures = false;
    for (space, _) in name.rmatch_indices(' ') {
        let word = name.get(space + 1..at).unwrap_or_default().trim_end();
        let holds = word.chars().any(|c| c.is_ascii_digit());
        if !holds && word != "%" {
            break;
        }
        figures |= holds;
        at = space + 1;
    }
    match (figures, name.get(..at), name.get(at..)) {
        (true, Some(head), Some(tail)) => (head.trim_end(), tail),
        _ => (name, ""),
    }
}

/// A label with a name that is cut within where it has no room; a screen reader and the
/// pointer get the whole name.
pub fn fitted_label(ui: &mut Ui, name: &str) {
    let font = TextStyle::Body.resolve(ui.style());
    let shown = fitted(ui, name, &font, ui.available_width());
    let is_cut = matches!(shown, Cow::Owned(_));
    let label = ui.add(Label::new(shown.into_owned()).truncate());
    if is_cut {
        label.widget_info(|| WidgetInfo::labeled(Role::Label, true, name));
        label.on_hover_text(name);
    }
}

/// A label of words in which figures keep their units when it takes several lines; a screen reader
/// gets the words as they are written everywhere.
pub fn unparted_label(
    ui: &mut Ui,
    words: &str,
    shown: impl FnOnce(String) -> WidgetText,
) -> Response {
    let label = ui.add(Label::new(shown(unparted(words))).wrap());
    label.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
    label
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_with_figures_is_kept() {
        for (name, head, tail) in [
            (
                "Sodium laureth sulfate solution 28 %",
                "Sodium laureth sulfate solution",
                "28 %",
            ),
            ("Glycerin 99.5 %", "Glycerin", "99.5 %"),
            ("Polysorbate 20", "Polysorbate", "20"),
            (
                "Benzyl alcohol and dehydroacetic acid blend",
                "Benzyl alcohol and dehydroacetic acid blend",
                "",
            ),
            ("28", "28", ""),
        ] {
            assert_eq!(parted(name), (head, tail));
        }
    }
}
