//! Two parts of a page, beside each other where there is room.

use eframe::egui::Ui;

use crate::theme;

/// Which of two parts is drawn.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Half {
    /// The one that is read first.
    First,
    /// The other.
    Second,
}

/// Draws two parts as [`in_columns`] does, both by one function, so that both may change the
/// same things.
pub fn halves(ui: &mut Ui, from: f32, mut draw: impl FnMut(&mut Ui, Half)) {
    if ui.available_width() < from {
        draw(ui, Half::First);
        draw(ui, Half::Second);
        return;
    }
    two_columns(ui, |left, right| {
        draw(left, Half::First);
        draw(right, Half::Second);
    });
}

/// Draws two parts beside each other from a width on, in points; else below each other. They are
/// read in the order given.
pub fn in_columns(
    ui: &mut Ui,
    from: f32,
    first: impl FnOnce(&mut Ui),
    second: impl FnOnce(&mut Ui),
) {
    if ui.available_width() < from {
        first(ui);
        second(ui);
        return;
    }
    two_columns(ui, |left, right| {
        first(left);
        second(right);
    });
}

/// Two columns of one width, with room between them.
pub fn two_columns(ui: &mut Ui, add: impl FnOnce(&mut Ui, &mut Ui)) {
    ui.scope(|ui| {
        let within = ui.spacing().item_spacing.x;
        ui.spacing_mut().item_spacing.x = 2.0 * theme::GAP;
        ui.columns_const(|[left, right]| {
            left.spacing_mut().item_spacing.x = within;
            right.spacing_mut().item_spacing.x = within;
            // Nothing is stretched to the width of its column.
            left.vertical(|left| right.vertical(|right| add(left, right)));
        });
    });
}
