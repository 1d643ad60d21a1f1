//! The table as it stands in the file, each cell marked by what it was taken for and each row
//! by what becomes of it.

use eframe::egui::{self, Color32, ComboBox, Ui, Vec2};
use egui_extras::{Column, TableBuilder};
use formulation::file::table::Table;
use formulation::file::table::columns::{Kind, Layout};
use formulation::file::table::questions::Standing;
use formulation::finding::Level;

use crate::theme::{self, Palette};
use crate::widgets::level_mark::level_mark;

/// Height of a row in points.
const ROW: f32 = 24.0;
/// Most columns shown.
const MOST: usize = 40;

/// What cells are told apart by; each has a colour, and its word in the head of its column.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Material,
    Amount,
    Phase,
    Price,
    Other,
}

impl Group {
    const ALL: [Self; 5] = [
        Self::Material,
        Self::Amount,
        Self::Phase,
        Self::Price,
        Self::Other,
    ];

    const fn of(kind: Kind) -> Self {
        match kind {
            Kind::Name | Kind::Inci | Kind::Cas | Kind::Trade | Kind::Strength => Self::Material,
            Kind::Percent | Kind::Amount | Kind::Unit | Kind::Filler => Self::Amount,
            Kind::Phase | Kind::Procedure => Self::Phase,
            Kind::Price
            | Kind::Currency
            | Kind::Pack
            | Kind::Packs
            | Kind::Gross
            | Kind::TotalPrice
            | Kind::Stock
            | Kind::Lot
            | Kind::Expiry => Self::Price,
            _ => Self::Other,
        }
    }

    const fn label(self) -> &'static str {
        match self {
            Self::Material => "which material",
            Self::Amount => "how much",
            Self::Phase => "phase and procedure",
            Self::Price => "price, pack and stock",
            Self::Other => "kept beside the line",
        }
    }

    fn colour(self, p: &Palette) -> Color32 {
        let place = Self::ALL.iter().position(|g| *g == self).unwrap_or(0);
        p.phase(place)
    }
}

/// Whether a column of a kind goes into what is made of the table.
const fn is_left_out(kind: Option<Kind>) -> bool {
    matches!(kind, None | Some(Kind::Code | Kind::Earlier))
}

/// Draws the table; what a column holds can be changed in its head. `prices` are columns
/// taken for prices whatever their kind, `standing` tells what becomes of a row.
pub(super) fn ui<'p>(
    ui: &mut Ui,
    table: &Table,
    layout: &mut Layout,
    prices: &[usize],
    standing: impl Fn(usize) -> Option<Standing<'p>>,
) {
    let kind_of = |layout: &Layout, column: usize| {
        let known = layout.columns.get(column).copied().flatten();
        known
            .map(|c| c.kind)
            .or(prices.contains(&column).then_some(Kind::Price))
    };
    let width = table.width().min(MOST);
    legend(ui, (0..width).filter_map(|c| kind_of(layout, c)));
    let p = theme::palette(ui);
    // Columns are as wide as what stands in them, within reason.
    let widths: Vec<f32> = (0..width)
        .map(|column| {
            let longest = (0..table.rows.len().min(200))
                .map(|row| table.cell(row, column).words().chars().count())
                .max()
                .unwrap_or(0);
            (longest as f32 * 7.5).clamp(96.0, 240.0)
        })
        .collect();
    let before = layout.clone();
    egui::ScrollArea::horizontal()
        .id_salt("source scroll")
        .auto_shrink(false)
        .show(ui, |ui| {
            let mut builder = TableBuilder::new(ui)
                .id_salt("source table")
                .auto_shrink(false)
                .cell_layout(egui::Layout::left_to_right(egui::Align::Center))
                .column(Column::exact(40.0))
                .column(Column::exact(84.0).clip(true));
            for width in widths {
                builder = builder.column(Column::exact(width).clip(true));
            }
            builder
                .header(ROW + 4.0, |mut header| {
                    header.col(|ui| {
                        ui.label(theme::small(ui, "Row"));
                    });
                    header.col(|ui| {
                        ui.label(theme::small(ui, "Becomes"));
                    });
                    for column in 0..width {
                        let mut kind = kind_of(&before, column);
                        header.col(|ui| {
                            if choose_kind(ui, column, &mut kind) {
                                layout.assign(column, kind);
                            }
                        });
                    }
                })
                .body(|body| {
                    body.rows(ROW, table.rows.len(), |mut row| {
                        let n = row.index();
                        let standing = standing(n + 1);
                        row.col(|ui| {
                            ui.label(theme::small(ui, (n + 1).to_string()));
                        });
                        row.col(|ui| mark(ui, standing));
                        for column in 0..width {
                            row.col(|ui| {
                                let kind = kind_of(&before, column);
                                cell(ui, p, table, (n, column), kind, standing);
                            });
                        }
                    });
                });
        });
}

/// What the colours mean, with the words.
fn legend(ui: &mut Ui, kinds: impl Iterator<Item = Kind>) {
    let shown: std::collections::BTreeSet<Group> = kinds
        .filter(|k| !is_left_out(Some(*k)))
        .map(Group::of)
        .collect();
    let p = theme::palette(ui);
    ui.horizontal_wrapped(|ui| {
        for group in shown {
            let (rect, _) = ui.allocate_exact_size(Vec2::splat(12.0), egui::Sense::hover());
            ui.painter().rect_filled(rect, 2.0, group.colour(p));
            ui.label(theme::small(ui, group.label()));
        }
        ui.label(theme::small(
            ui,
            "without colour: left out; the head of each column says what it was taken for",
        ));
    });
}

/// A list of everything a column can hold; whether another was chosen.
fn choose_kind(ui: &mut Ui, column: usize, kind: &mut Option<Kind>) -> bool {
    let before = *kind;
    ComboBox::from_id_salt(("kind", column))
        .selected_text(kind.map_or("left out", Kind::label))
        .width(ui.available_width() - 4.0)
        .show_ui(ui, |ui| {
            ui.selectable_value(kind, None, "left out");
            for one in Kind::ALL {
                ui.selectable_value(kind, Some(one), one.label());
            }
        })
        .response
        .accessible_name(format!("Meaning of column {}", column + 1));
    *kind != before
}

/// What becomes of a row, in a word.
fn mark(ui: &mut Ui, standing: Option<Standing<'_>>) {
    let Some(standing) = standing else {
        return;
    };
    if standing == Standing::Asked {
        level_mark(ui, Level::Caution);
    }
    let response = ui.label(theme::small(ui, standing.label()));
    if let Standing::LeftOut(why) = standing {
        response.on_hover_text(why);
    }
}

fn cell(
    ui: &mut Ui,
    p: &Palette,
    table: &Table,
    (row, column): (usize, usize),
    kind: Option<Kind>,
    standing: Option<Standing<'_>>,
) {
    let words = table.cell(row, column).words();
    let left_out = matches!(standing, None | Some(Standing::LeftOut(_)));
    let unused = left_out || is_left_out(kind);
    if !unused
        && !words.is_empty()
        && let Some(kind) = kind
    {
        ui.painter()
            .rect_filled(ui.max_rect(), 0.0, Group::of(kind).colour(p));
    }
    if words.is_empty() {
        return;
    }
    let text = if unused {
        egui::RichText::new(&words).color(p.faint_ink)
    } else {
        egui::RichText::new(&words).color(p.ink)
    };
    let response = ui.add(egui::Label::new(text).truncate());
    if let Some(Standing::LeftOut(why)) = standing {
        response.on_hover_text(format!("{words}: left out, {why}"));
    } else if let Some(struck) = table.struck_words.get(&(row, column)) {
        response.on_hover_text(format!("“{struck}” is struck through and was left out"));
    } else if words.chars().count() > 20 {
        response.on_hover_text(words);
    }
}
