//! A button that opens a month to choose a day from.

use eframe::egui::{Button, Grid, Ui, vec2};
use formulation::formula::Date;
use jiff::ToSpan as _;

use super::at_right::at_right;
use super::icon::{Icon, icon_button};
use crate::theme;

/// Side of a day, in points.
const DAY: f32 = 28.0;

/// Draws the button; the day that was chosen comes back.
pub fn day_picker(ui: &mut Ui, name: &str, from: Date, today: Date) -> Option<Date> {
    let mut chosen = None;
    let id = ui.scope_id().with(("month", name));
    let menu = ui.menu_button("…", |ui| {
        let mut month = ui
            .data(|d| d.get_temp::<(i16, i8)>(id))
            .unwrap_or((from.year(), from.month()));
        chosen = draw_month(ui, &mut month, from, today);
        if chosen.is_some() {
            ui.data_mut(|d| d.remove::<(i16, i8)>(id));
            ui.close();
        } else {
            ui.data_mut(|d| d.insert_temp(id, month));
        }
    });
    if menu.inner.is_none() {
        ui.data_mut(|d| d.remove::<(i16, i8)>(id));
    }
    let words = format!("Choose the day: {name}");
    menu.response.on_hover_text(&words).accessible_name(words);
    chosen
}

fn draw_month(ui: &mut Ui, month: &mut (i16, i8), from: Date, today: Date) -> Option<Date> {
    ui.set_max_width(7.0 * (DAY + 4.0));
    let first = Date::new(month.0, month.1, 1).unwrap_or(today);
    let step = |by: i32| {
        let there = first.checked_add(by.months()).unwrap_or(first);
        (there.year(), there.month())
    };
    ui.horizontal(|ui| {
        if icon_button(ui, Icon::Left, "The month before", true).clicked() {
            *month = step(-1);
        }
        ui.label(theme::strong(first.strftime("%B %Y").to_string()));
        at_right(ui, "onwards", |ui| {
            if ui.small_button("+1 year").clicked() {
                *month = step(12);
            }
            if icon_button(ui, Icon::Right, "The month after", true).clicked() {
                *month = step(1);
            }
        });
    });
    let mut chosen = None;
    Grid::new("days").spacing([2.0, 2.0]).show(ui, |ui| {
        for day in ["Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"] {
            ui.label(theme::small(ui, day));
        }
        ui.end_row();
        let before = first.weekday().to_monday_zero_offset();
        for _ in 0..before {
            ui.label("");
        }
        for n in 1..=first.days_in_month() {
            let Ok(day) = Date::new(first.year(), first.month(), n) else {
                continue;
            };
            let mut button =
                Button::selectable(day == from, n.to_string()).min_size(vec2(DAY, DAY));
            if day == today {
                button = button.stroke((1.0, theme::palette(ui).accent));
            }
            if ui.add(button).on_hover_text(day.to_string()).clicked() {
                chosen = Some(day);
            }
            if day.weekday().to_monday_zero_offset() == 6 {
                ui.end_row();
            }
        }
    });
    chosen
}
