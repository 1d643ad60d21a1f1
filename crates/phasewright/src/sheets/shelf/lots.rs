//! The lots of the chosen material: those in stock, and what certificates state of them.

use std::collections::BTreeMap;

use eframe::egui::{self, Grid, Ui};
use formulation::amount::measure::{tidy, tidy_percent};
use formulation::amount::{Measure, typed};
use formulation::finding::Level;
use formulation::lot_changes::words_of;
use formulation::lot_values::LotValues;
use formulation::material::Material;
use formulation::own_shelf::{OwnShelf, ShelfEdit};
use formulation::quantity::MassFraction;
use formulation::stock::LotId;

use super::{line, section};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::read_out::read_out;

/// The values of a lot while they are typed.
#[derive(Default)]
pub struct LotForm {
    open: bool,
    /// The lot whose certificate is changed; `None` while one is entered.
    of: Option<LotId>,
    lot: String,
    texts: Texts,
    /// What the shelf states of the lot, as it was last seen.
    stated: Texts,
    /// Fields in which something else is typed than the shelf states since.
    otherwise: Vec<String>,
    problem: Option<String>,
}

/// The fields of a certificate.
#[derive(Clone, PartialEq, Default)]
struct Texts {
    certificate: String,
    density: String,
    ph: String,
    shares: BTreeMap<String, String>,
}

impl Texts {
    /// What is stated, as it would be typed.
    fn of(values: &LotValues, material: &Material) -> Self {
        let shares = values.shares.iter().map(|(inci, share)| {
            // Under the name the material has it by.
            let mut known = material.constituents.iter().map(|c| &c.inci);
            let name = known.find(|name| name.same_as(inci)).unwrap_or(inci);
            (name.to_string(), tidy_percent(*share).to_string())
        });
        Self {
            certificate: values.certificate.to_string(),
            density: values.density.map(typed::density_field).unwrap_or_default(),
            ph: values
                .ph
                .map(|ph| tidy(ph.value(), 6).to_string())
                .unwrap_or_default(),
            shares: shares.collect(),
        }
    }

    /// Every field by its name.
    fn fields(&mut self) -> Vec<(&str, &mut String)> {
        let mut all = vec![
            ("Certificate", &mut self.certificate),
            ("Density, g/ml", &mut self.density),
            ("pH", &mut self.ph),
        ];
        let shares = self.shares.iter_mut();
        all.extend(shares.map(|(inci, text)| (inci.as_str(), text)));
        all
    }
}

impl LotForm {
    /// The form of a certificate that is changed.
    fn of(values: &LotValues, material: &Material) -> Self {
        let texts = Texts::of(values, material);
        Self {
            open: true,
            of: Some(values.lot.clone()),
            lot: values.lot.to_string(),
            stated: texts.clone(),
            texts,
            ..Self::default()
        }
    }

    /// Takes over what the shelf states of the lot, where nothing else is typed: a lot whose
    /// code is typed may have a certificate, and another window may change one.
    fn follow(&mut self, own: &OwnShelf, material: &Material) {
        let lot = LotId::new(&self.lot);
        if self.of.is_some() && self.of != lot {
            // The code itself is being changed.
            return;
        }
        let known = lot.and_then(|lot| own.lots.get(&lot));
        let known = known.filter(|values| values.material == material.id);
        if self.of.is_some() && known.is_none() {
            return;
        }
        let mut now = known.map_or_else(Texts::default, |values| Texts::of(values, material));
        if now == self.stated {
            return;
        }
        for inci in now.shares.keys().chain(self.stated.shares.keys()) {
            self.texts.shares.entry(inci.clone()).or_default();
        }
        let mut stated = self.stated.clone();
        for inci in self.texts.shares.keys() {
            now.shares.entry(inci.clone()).or_default();
            stated.shares.entry(inci.clone()).or_default();
        }
        self.otherwise.clear();
        let fields = self.texts.fields().into_iter();
        let shelf = now.fields().into_iter().zip(stated.fields());
        for ((name, typed), ((_, now), (_, was))) in fields.zip(shelf) {
            if *typed == *was {
                typed.clone_from(now);
            } else if now != was && now != typed && known.is_some() {
                self.otherwise.push(name.to_owned());
            }
        }
        now.shares.retain(|_, text| !text.is_empty());
        self.stated = now;
    }

    /// The values, if they can be those of a lot of the material.
    fn read(&self, material: &Material, base: Option<(f64, f64)>) -> Result<LotValues, String> {
        let number = |name: &str, text: &str| -> Result<Option<f64>, String> {
            typed::optional(text, |text| typed::value(text, &Measure::NUMBER))
                .map_err(|e| format!("{name}: {e}"))
        };
        let Texts {
            certificate,
            density,
            ph,
            shares: typed_shares,
        } = &self.texts;
        let mut shares = Vec::new();
        for (inci, text) in typed_shares {
            if let Some(percent) = number(inci, text)? {
                shares.push((inci.as_str().into(), MassFraction::from_percent(percent)));
            }
        }
        let ph = typed::optional(ph, typed::ph).map_err(|e| format!("pH: {e}"))?;
        let density =
            typed::optional(density, typed::density).map_err(|e| format!("Density: {e}"))?;
        let values = LotValues {
            lot: LotId::new(&self.lot).ok_or("Write the code of the lot")?,
            material: material.id.clone(),
            shares,
            density,
            ph,
            base_mmol_per_gram: base,
            certificate: certificate.trim().into(),
        };
        values.applied_to(material).map_err(|e| e.to_string())?;
        Ok(values)
    }

    /// The edits that keep what is typed.
    fn edits(&self, view: &View<'_>, material: &Material) -> Result<Vec<ShelfEdit>, String> {
        let own = view.state.makers_shelf().own();
        let lot = LotId::new(&self.lot).ok_or("Write the code of the lot")?;
        let known = own.lots.get(&lot);
        if let Some(known) = known.filter(|known| known.material != material.id)
            && let Some(other) = view.state.shelf().get(&known.material)
        {
            return Err(format!(
                "The lot {lot} has a certificate as a lot of {}; take that one away first, or correct the code",
                other.name
            ));
        }
        let renamed = self.of.as_ref().filter(|of| **of != lot);
        if renamed.is_some() && known.is_some() {
            return Err(format!(
                "The lot {lot} has a certificate already; change that one"
            ));
        }
        // What trials narrowed of the lot is kept along.
        let before = self.of.as_ref().and_then(|of| own.lots.get(of)).or(known);
        let values = self.read(material, before.and_then(|b| b.base_mmol_per_gram))?;
        let renamed = renamed.map(|of| ShelfEdit::RemoveLot(of.clone()));
        let edits = renamed.into_iter().chain([ShelfEdit::PutLot(values)]);
        Ok(edits.collect())
    }
}

/// Draws the lots in stock and the certificates.
pub fn lots(
    ui: &mut Ui,
    view: &View<'_>,
    form: &mut LotForm,
    material: &Material,
    commands: &mut Vec<Command>,
) {
    in_stock(ui, view, form, material);
    section(ui, "Certificates of lots");
    let own = view.state.makers_shelf().own();
    for values in own.lots_of(&material.id) {
        ui.push_id(values.lot.as_str(), |ui| {
            certificate(ui, values, material, form, commands);
        });
    }
    if !form.open {
        if ui
            .button("Enter a certificate…")
            .on_hover_text(
                "When this lot is weighed, its values take the place of the typical ones",
            )
            .clicked()
        {
            *form = LotForm {
                open: true,
                ..LotForm::default()
            };
        }
        return;
    }
    lot_form(ui, view, form, material, commands);
}

fn in_stock(ui: &mut Ui, view: &View<'_>, form: &mut LotForm, material: &Material) {
    section(ui, "In stock");
    let books = &view.state.books;
    let own = view.state.makers_shelf().own();
    let mut any = false;
    for lot in books.stock().lots_of(&material.id) {
        any = true;
        let until = lot
            .last_day()
            .map_or_else(|| "no last day".to_owned(), |d| format!("until {d}"));
        let from = if lot.supplier.is_empty() {
            String::new()
        } else {
            format!(" from {}", lot.supplier)
        };
        ui.horizontal_wrapped(|ui| {
            ui.label(format!("Lot {}{from}", lot.id));
            line(
                ui,
                format!(
                    "{} g left, {until}, {}",
                    books.stock().left(lot, books.usage()),
                    lot.status.label()
                ),
            );
            let known = own.lots.get(&lot.id);
            let known = known.filter(|values| values.material == material.id);
            let does = if known.is_some() { "Change" } else { "Enter" };
            let button = ui
                .small_button("Certificate…")
                .on_hover_text(format!("{does} the certificate of the lot {}", lot.id))
                .accessible_name(format!("Certificate of lot {}…", lot.id));
            if button.clicked() {
                *form = match known {
                    Some(values) => LotForm::of(values, material),
                    None => LotForm {
                        open: true,
                        lot: lot.id.to_string(),
                        texts: Texts {
                            certificate: lot.certificate.to_string(),
                            ..Texts::default()
                        },
                        ..LotForm::default()
                    },
                };
            }
        });
    }
    if !any {
        line(ui, "no lot is entered under Make, Stock".to_owned());
    }
}

/// One certificate with all it states.
fn certificate(
    ui: &mut Ui,
    values: &LotValues,
    material: &Material,
    form: &mut LotForm,
    commands: &mut Vec<Command>,
) {
    let lot = &values.lot;
    ui.horizontal_wrapped(|ui| {
        ui.label(format!("Lot {lot}"));
        let stated = LotValues {
            // The source names it.
            certificate: "".into(),
            ..values.clone()
        };
        let words = match words_of(&stated) {
            words if words.is_empty() => "states no values".to_owned(),
            words => words,
        };
        line(ui, format!("{words}; {}", values.source()));
        let change = ui
            .small_button("Change…")
            .accessible_name(format!("Change the certificate of lot {lot}…"));
        if change.clicked() {
            *form = LotForm::of(values, material);
        }
        let away = ui
            .small_button("Take away")
            .on_hover_text("Weigh this lot by the material's typical values again")
            .accessible_name(format!("Take the certificate of lot {lot} away"));
        if away.clicked() {
            commands.push(Command::EditShelf(vec![ShelfEdit::RemoveLot(lot.clone())]));
        }
    });
}

fn field(ui: &mut Ui, text: &mut String, name: &str, width: f32) {
    ui.add(
        egui::TextEdit::singleline(text)
            .desired_width(width)
            .min_size(egui::vec2(0.0, theme::FIELD)),
    )
    .accessible_name(name);
}

/// The fields of a certificate.
fn lot_form(
    ui: &mut Ui,
    view: &View<'_>,
    form: &mut LotForm,
    material: &Material,
    commands: &mut Vec<Command>,
) {
    let own = view.state.makers_shelf().own();
    form.follow(own, material);
    for c in &material.constituents {
        form.texts.shares.entry(c.inci.to_string()).or_default();
    }
    Grid::new("lot form").num_columns(2).show(ui, |ui| {
        ui.label(theme::small(ui, "Lot"));
        field(ui, &mut form.lot, "Lot", 160.0);
        ui.end_row();
        let Texts {
            certificate,
            density,
            ph,
            shares,
        } = &mut form.texts;
        for (name, text) in [
            ("Certificate", certificate),
            ("Density, g/ml", density),
            ("pH", ph),
        ] {
            ui.label(theme::small(ui, name));
            field(ui, text, name, 160.0);
            ui.end_row();
        }
        // In the order of the material, then what it does not contain any more.
        let known = |inci: &str| material.constituents.iter().position(|c| c.inci.is(inci));
        let mut rows: Vec<(&String, &mut String)> = shares.iter_mut().collect();
        rows.sort_by_key(|(inci, _)| known(inci).unwrap_or(usize::MAX));
        for (inci, text) in rows {
            ui.label(theme::small(ui, format!("{inci}, %")));
            field(ui, text, &format!("{inci} by the certificate"), 80.0);
            ui.end_row();
        }
    });
    if form.of.is_none() && form.stated != Texts::default() {
        let words = format!(
            "Lot {} has a certificate already; what it states stands in the fields",
            form.lot.trim()
        );
        read_out(&ui.add(egui::Label::new(words).wrap()));
    }
    if !form.otherwise.is_empty() {
        let words = format!(
            "The shelf states otherwise by now: {}; what stands here takes its place",
            form.otherwise.join(", ")
        );
        read_out(&ui.add(egui::Label::new(words).wrap()));
    }
    line(
        ui,
        "What is left empty stays typical; water makes up for what the certificate does not state"
            .to_owned(),
    );
    if let Some(problem) = &form.problem {
        ui.colored_label(theme::palette(ui).level(Level::Breach), problem);
    }
    ui.horizontal(|ui| {
        if theme::main_button(ui, "Keep").clicked() {
            match form.edits(view, material) {
                Ok(edits) => {
                    commands.push(Command::EditShelf(edits));
                    form.open = false;
                }
                Err(problem) => form.problem = Some(problem),
            }
        }
        if ui.button("Cancel").clicked() {
            form.open = false;
        }
    });
}
