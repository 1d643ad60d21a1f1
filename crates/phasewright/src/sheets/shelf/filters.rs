//! Which materials are listed, besides the words searched for.

use eframe::egui::{self, ComboBox, Ui};
use formulation::material::{Charge, Material, MaterialId, PhaseKind, Role};
use formulation::own_shelf::OwnShelf;
use formulation::stock::Holdings;

use super::capital;
use super::usage::SavedFormulas;
use crate::theme;

/// A least index of natural origin by ISO 16128 that can be asked for.
const NATURAL: [f64; 4] = [0.5, 0.75, 0.95, 1.0];

/// What the stock holds of a material.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Held {
    Usable,
    Expired,
    Not,
}

impl Held {
    const ALL: [Self; 3] = [Self::Usable, Self::Expired, Self::Not];
    const fn label(self) -> &'static str {
        match self {
            Self::Usable => "In stock",
            Self::Expired => "Expired",
            Self::Not => "Not in stock",
        }
    }
    fn pass(self, id: &MaterialId, holdings: &Holdings) -> bool {
        match self {
            Self::Usable => holdings.usable.contains(id),
            Self::Expired => holdings.expired.contains(id),
            Self::Not => !holdings.usable.contains(id),
        }
    }
}

/// The filters; none set lists all.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Filters {
    role: Option<Role>,
    phase: Option<PhaseKind>,
    charge: Option<Charge>,
    /// Place in [`NATURAL`].
    natural: Option<usize>,
    own: bool,
    held: Option<Held>,
    /// Name of a formula that uses them.
    used_in: Option<String>,
}

impl Filters {
    /// Whether none is set.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }

    /// Whether a material passes.
    pub fn pass(
        &self,
        material: &Material,
        own: &OwnShelf,
        holdings: &Holdings,
        formulas: &SavedFormulas,
    ) -> bool {
        self.role.is_none_or(|r| material.has_role(r))
            && self.phase.is_none_or(|p| material.phase == Some(p))
            && self.charge.is_none_or(|c| material.charge == Some(c))
            && self
                .natural
                .and_then(|n| NATURAL.get(n))
                .is_none_or(|least| {
                    // The lowest index counts: unknown does not pass.
                    material
                        .natural_origin
                        .as_ref()
                        .is_some_and(|v| v.value.low >= *least)
                })
            && (!self.own || own.materials.contains_key(&material.id))
            && self.held.is_none_or(|h| h.pass(&material.id, holdings))
            && self.used_in.as_ref().is_none_or(|name| {
                formulas
                    .using(&material.id)
                    .any(|saved| saved.name() == *name)
            })
    }

    /// Draws the filters; whether one has changed.
    pub fn ui(&mut self, ui: &mut Ui, formulas: &SavedFormulas) -> bool {
        let before = self.clone();
        ui.horizontal_wrapped(|ui| {
            let p = theme::palette(ui);
            ui.spacing_mut().item_spacing.x = 4.0;
            choice(ui, "Role", &mut self.role, &Role::ALL, |r| {
                capital(r.label())
            });
            choice(ui, "Phase", &mut self.phase, &PhaseKind::ALL, |k| {
                capital(k.label())
            });
            choice(ui, "Charge", &mut self.charge, &Charge::ALL, |c| {
                capital(c.label())
            });
            let places: Vec<usize> = (0..NATURAL.len()).collect();
            choice(ui, "Natural origin", &mut self.natural, &places, |n| {
                NATURAL
                    .get(*n)
                    .map(|least| format!("Index at least {least}"))
                    .unwrap_or_default()
            });
            let mut names: Vec<String> = formulas
                .all()
                .iter()
                .map(super::usage::Saved::name)
                .collect();
            names.dedup();
            choice(ui, "Used in", &mut self.used_in, &names, Clone::clone);
            choice(ui, "Stock", &mut self.held, &Held::ALL, |h| {
                h.label().to_owned()
            });
            ui.checkbox(&mut self.own, "Mine")
                .on_hover_text("Only what you have added or changed");
            if !self.is_none()
                && ui
                    .button(egui::RichText::new("All").color(p.accent))
                    .on_hover_text("Take all filters away")
                    .clicked()
            {
                *self = Self::default();
            }
        });
        *self != before
    }
}

/// A box that shows its name until something is chosen.
fn choice<T: Clone + PartialEq>(
    ui: &mut Ui,
    name: &str,
    chosen: &mut Option<T>,
    all: &[T],
    label: impl Fn(&T) -> String,
) {
    let shown = chosen.as_ref().map_or_else(|| name.to_owned(), &label);
    ComboBox::from_id_salt(name)
        .selected_text(shown)
        .width(56.0)
        .height(360.0)
        .show_ui(ui, |ui| {
            ui.selectable_value(chosen, None, "Any");
            for one in all {
                ui.selectable_value(chosen, Some(one.clone()), label(one));
            }
        })
        .response
        .accessible_name(name);
}
