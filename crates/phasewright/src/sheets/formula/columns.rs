//! Where the columns of the Formula sheet stand, the same in every row.

use eframe::egui::{self, Align, Layout, Rangef, Rect, Ui, UiBuilder};

/// Space between columns in points.
const SPACE: f32 = 6.0;

/// Rows below this width are narrow, in points.
const NARROW: f32 = 700.0;

/// The columns, as ranges from left to right.
#[derive(Clone, Copy)]
pub struct Columns {
    /// The grip by which a line is dragged.
    pub grip: Rangef,
    /// What the line brings into the mix, in the colours of the chart.
    pub swatch: Rangef,
    /// Material with its INCI names.
    pub name: Rangef,
    /// The slider.
    pub slider: Rangef,
    /// The percentage.
    pub percent: Rangef,
    /// Grams in the batch shown.
    pub grams: Rangef,
    /// Whether the line is held.
    pub hold: Rangef,
    /// Whether it is the filler.
    pub filler: Rangef,
    /// The mark of the gravest finding.
    pub mark: Rangef,
    /// What else can be done.
    pub more: Rangef,
}

impl Columns {
    /// The columns of a row from `left` to `right`.
    pub fn new(left: f32, right: f32) -> Self {
        // From the right: each column ends where the next one begins.
        let before = |next: Rangef, width: f32| {
            let end = next.min - SPACE;
            Rangef::new(end - width, end)
        };
        // In a narrow window the names have what the figures can spare.
        let spare = if right - left < NARROW { 10.0 } else { 0.0 };
        let more = Rangef::new(right - 26.0, right - 4.0);
        let mark = before(more, 16.0);
        let filler = before(mark, 44.0);
        let hold = before(filler, if spare > 0.0 { 22.0 } else { 28.0 });
        let grams = before(hold, 66.0 - spare);
        let percent = before(grams, 70.0 - spare);
        let room = percent.min - left;
        let share = if spare > 0.0 { 0.36 } else { 0.4 };
        let slider = before(percent, (room * share).clamp(100.0, 440.0));
        let grip = Rangef::new(left + 2.0, left + 18.0);
        let swatch = Rangef::new(grip.max + 2.0, grip.max + 10.0);
        Self {
            grip,
            swatch,
            name: Rangef::new(swatch.max + SPACE, slider.min - SPACE),
            slider,
            percent,
            grams,
            hold,
            filler,
            mark,
            more,
        }
    }
}

/// Draws the names of the columns.
pub fn captions(ui: &mut Ui, columns: &Columns) {
    let (row, _) =
        ui.allocate_exact_size(egui::vec2(ui.available_width(), 18.0), egui::Sense::hover());
    let inset = egui::vec2(-6.0, 0.0);
    for (column, words, align, shift) in [
        (columns.name, "Raw material", Align::Min, egui::Vec2::ZERO),
        (
            columns.slider,
            "Usual range and limit",
            Align::Center,
            egui::Vec2::ZERO,
        ),
        (columns.percent, "% w/w", Align::Max, inset),
        (columns.grams, "g", Align::Max, egui::Vec2::ZERO),
        (columns.hold, "hold", Align::Center, egui::Vec2::ZERO),
        (columns.filler, "filler", Align::Center, egui::Vec2::ZERO),
    ] {
        let room = if align == Align::Center { 8.0 } else { 0.0 };
        let rect = Rect::from_x_y_ranges(column, row.y_range()).translate(shift);
        let rect = rect.expand2(egui::vec2(room, 0.0));
        text(ui, rect, crate::theme::small(ui, words), align);
    }
}

/// Draws within a part of a row, level with its middle.
pub fn cell<R>(ui: &mut Ui, row: Rect, column: Rangef, add: impl FnOnce(&mut Ui) -> R) -> R {
    let rect = Rect::from_x_y_ranges(column, row.y_range());
    let mut child = ui.new_child(
        UiBuilder::new()
            .max_rect(rect)
            .layout(Layout::left_to_right(Align::Center)),
    );
    add(&mut child)
}

/// Paints one line of text in a rectangle, cut off with "…" where it is too long.
pub fn text(ui: &Ui, rect: Rect, words: impl Into<egui::WidgetText>, align: Align) -> bool {
    let galley = words.into().into_galley(
        ui,
        Some(egui::TextWrapMode::Truncate),
        rect.width(),
        egui::TextStyle::Body,
    );
    let x = match align {
        Align::Min => rect.left(),
        Align::Center => rect.center().x - galley.size().x / 2.0,
        Align::Max => rect.right() - galley.size().x,
    };
    let at = egui::pos2(x, rect.center().y - galley.size().y / 2.0);
    let whole = !galley.elided;
    ui.painter().galley(at, galley, ui.visuals().text_color());
    whole
}
