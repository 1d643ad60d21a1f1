//! What the maker states for the label.

use std::sync::Arc;

use eframe::egui::{self, Align, ComboBox, Id, Layout, Ui, Vec2};
use formulation::amount::measure::tidy;
use formulation::amount::{Measure, typed};
use formulation::edit::Edit;
use formulation::formula::Market;
use formulation::label::{Label, Stated};
use formulation::label_info::{Durability, LabelInfo, LeftOut, NetContents};
use formulation::quantity::{grams, in_grams, in_millilitres, millilitres};

use super::FIELDS;
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::refusal::figure;

/// Width of the words before a field.
const WORDS: f32 = 120.0;
/// Width of a field.
const WIDTH: f32 = FIELDS - WORDS - theme::GAP * 2.0;

/// What was typed into a field for a number: nothing new, a number, or that there is none.
type Typed = Option<Option<f64>>;

/// A field with its words before it.
fn captioned(ui: &mut Ui, name: &str, entry: Entry<'_>) -> Option<String> {
    beside_words(ui, name, |ui| entry.width(WIDTH).show(ui).done)
}

/// A field with its words before it whose text is read.
fn read_captioned<T, E: ToString>(
    ui: &mut Ui,
    name: &str,
    entry: Entry<'_>,
    read: impl FnOnce(&str) -> Result<T, E>,
) -> Option<T> {
    beside_words(ui, name, |ui| figure(ui, entry.width(WIDTH), read).read)
}

fn beside_words<T>(ui: &mut Ui, name: &str, add: impl FnOnce(&mut Ui) -> T) -> T {
    let row = ui.horizontal(|ui| {
        words(ui, name);
        add(ui)
    });
    row.inner
}

/// The words before a field.
fn words(ui: &mut Ui, name: &str) {
    ui.allocate_ui_with_layout(
        Vec2::new(WORDS, theme::FIELD),
        Layout::left_to_right(Align::Center).with_main_wrap(true),
        |ui| {
            ui.set_min_width(WORDS);
            ui.set_max_width(WORDS);
            ui.add(egui::Label::new(name).wrap());
        },
    );
}

/// One named field whose text, once handed over, changes the label.
struct Fields<'a, 'v> {
    view: &'a View<'v>,
    next: LabelInfo,
    /// What gets the cursor.
    led_to: Option<Stated>,
}

/// The name of the field for what the maker states.
pub(super) const fn field_of(stated: Stated, market: Market) -> &'static str {
    match stated {
        Stated::Function => "Function",
        Stated::NetContents => "Net contents",
        Stated::MainPanel => "Main panel",
        Stated::Letters => "Small letters, height in mm",
        Stated::Durability => "Keeps",
        Stated::BatchCode => "Batch code",
        Stated::ResponsiblePerson => person(market),
        Stated::ResponsiblePersonUk => PERSON_UK,
        Stated::UsContact => "US contact",
        Stated::Country => "Country of origin",
    }
}

/// The field for another responsible person in the United Kingdom.
const PERSON_UK: &str = "In the UK, if another";
/// The field for another manufacturer, packer or distributor in the United States.
const PERSON_US: &str = "In the US, if another";

/// What the one who answers for the product is called.
const fn person(market: Market) -> &'static str {
    match market {
        Market::Us => "Manufacturer or distributor",
        Market::Eu | Market::Uk => "Responsible person",
    }
}

impl Fields<'_, '_> {
    fn id(&self, name: &str) -> Id {
        Id::unique((
            "label",
            name.to_owned(),
            self.view.document.id,
            self.view.variant.id,
        ))
    }

    fn text(
        &self,
        ui: &mut Ui,
        name: &str,
        shown: &str,
        lines: usize,
        hint: &str,
    ) -> Option<String> {
        let entry = Entry::new(self.id(name), shown, name)
            .lines(lines)
            .hint(hint);
        captioned(ui, name, entry)
    }

    /// A field for words of one's own.
    fn free_text(
        &self,
        ui: &mut Ui,
        name: &str,
        shown: &str,
        lines: usize,
        hint: &str,
    ) -> Option<String> {
        let entry = Entry::new(self.id(name), shown, name)
            .lines(lines)
            .hint(hint)
            .words();
        captioned(ui, name, entry)
    }

    fn number(
        &self,
        ui: &mut Ui,
        name: &str,
        shown: Option<f64>,
        hint: &str,
        range: std::ops::RangeInclusive<f64>,
    ) -> Typed {
        let shown = shown.map_or_else(String::new, |n| n.to_string());
        let measure = Measure::NUMBER.within(*range.start(), *range.end());
        let entry = Entry::new(self.id(name), &shown, name).hint(hint);
        read_captioned(ui, name, entry, |text| {
            typed::optional(text, |text| typed::value(text, &measure))
        })
    }

    /// A field for words; `part` is where they are kept.
    fn words(
        &mut self,
        ui: &mut Ui,
        name: &str,
        (lines, hint): (usize, &str),
        part: impl Fn(&mut LabelInfo) -> &mut Arc<str>,
    ) {
        let shown = part(&mut self.next).clone();
        if let Some(typed) = self.free_text(ui, name, &shown, lines, hint) {
            *part(&mut self.next) = typed.into();
        }
    }

    /// A field for entries, one a line.
    fn entries<T: for<'t> From<&'t str> + ToString>(
        &mut self,
        ui: &mut Ui,
        name: &str,
        hint: &str,
        part: impl Fn(&mut LabelInfo) -> &mut Vec<T>,
    ) {
        let shown = part(&mut self.next).iter().map(T::to_string);
        let shown = shown.collect::<Vec<_>>().join("\n");
        if let Some(typed) = self.text(ui, name, &shown, 2, hint) {
            *part(&mut self.next) = lines_of(&typed);
        }
    }

    /// A field for a length in millimetres, which cannot be taken out.
    fn length(
        &mut self,
        ui: &mut Ui,
        name: &str,
        range: std::ops::RangeInclusive<f64>,
        part: impl Fn(&mut LabelInfo) -> &mut f64,
    ) {
        let shown = *part(&mut self.next);
        if let Some(Some(typed)) = self.number(ui, name, Some(shown), "mm", range) {
            *part(&mut self.next) = typed;
        }
    }

    /// A field for an area in square centimetres, asked for in the United States only.
    fn area(&mut self, ui: &mut Ui, name: &str, part: impl Fn(&mut LabelInfo) -> &mut Option<f64>) {
        let shown = *part(&mut self.next);
        let typed = self.number(ui, name, shown, "cm², for the US", 0.1..=100_000.0);
        *part(&mut self.next) = typed.unwrap_or(shown);
    }
}

/// Draws the fields, one of which may get the cursor; what was typed becomes one change of the
/// label.
pub(super) fn fields(
    ui: &mut Ui,
    view: &View<'_>,
    label: &Label,
    led_to: Option<Stated>,
    commands: &mut Vec<Command>,
) {
    let info = view.variant.label.as_ref();
    let mut f = Fields {
        view,
        next: info.clone(),
        led_to,
    };
    if let Some(stated) = led_to {
        let field = f.id(field_of(stated, label.market));
        ui.memory_mut(|m| m.request_focus(field));
    }
    ui.label(theme::heading("What you state"));
    product(ui, &mut f);
    who_and_how(ui, &mut f, label.market);
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("The list"));
    ingredient_list(ui, &mut f);
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("Size"));
    size(ui, &mut f);
    if f.next != *info {
        commands.push(Command::Edit(Edit::SetLabel(Arc::new(f.next))));
    }
}

/// What it is, how much of it, and until when it is good.
fn product(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    let own_name = f.view.formula.name.clone();
    f.words(ui, "Name", (1, &own_name), |i| &mut i.product_name);
    f.words(ui, "Function", (1, "what it is"), |i| &mut i.function);
    net_contents(ui, f);
    durability(ui, f);
    let hint = "or where it stands";
    f.words(ui, "Batch code", (1, hint), |i| &mut i.batch_code);
}

/// How it is used, and who answers for it.
fn who_and_how(ui: &mut Ui, f: &mut Fields<'_, '_>, market: Market) {
    f.words(ui, "Directions", (2, "how to use it"), |i| {
        &mut i.directions
    });
    f.entries(ui, "Your cautions", "one a line", |i| &mut i.cautions);
    f.words(ui, person(market), (3, "name and address"), |i| {
        &mut i.responsible_person
    });
    // Where it is sold in one market only, the one person is that of this market.
    let sold = &f.view.variant.product.markets;
    let several = sold.len() > 1;
    let (in_uk, in_us) = (sold.contains(&Market::Uk), sold.contains(&Market::Us));
    let info = &f.view.variant.label;
    let (uk, us) = (&info.responsible_person_uk, &info.made_by_us);
    if several && in_uk && market != Market::Us || !uk.is_empty() {
        f.words(ui, PERSON_UK, (3, "name and address"), |i| {
            &mut i.responsible_person_uk
        });
    }
    if several && in_us && market == Market::Us || !us.is_empty() {
        f.words(ui, PERSON_US, (3, "name and address"), |i| {
            &mut i.made_by_us
        });
    }
    let hint = "address, telephone or site";
    f.words(ui, "US contact", (1, hint), |i| &mut i.us_contact);
    f.words(ui, "Country of origin", (1, "made in"), |i| &mut i.country);
}

/// What the maker chooses about the list of ingredients.
fn ingredient_list(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    ui.checkbox(
        &mut f.next.oils_as_perfume,
        "Essential oils under the name for perfume",
    )
    .on_hover_text(
        "The law lets perfume and its raw materials be listed as parfum or fragrance; allergens are named all the same",
    );
    ui.checkbox(
        &mut f.next.reaction_products,
        "Salts instead of acid and base",
    )
    .on_hover_text(
        "The law lists ingredients as they were added. This lists the salts that acids and bases form, as if they reacted completely",
    );
    let hint = "colorants of other shades, one a line";
    f.entries(ui, "May contain", hint, |i| &mut i.may_contain);
    left_out(ui, f);
    if !f.next.low_order.is_empty() && ui.button("Order by weight again").clicked() {
        f.next.low_order.clear();
    }
}

fn size(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    f.length(ui, "Width, mm", 10.0..=1000.0, |i| &mut i.width_mm);
    f.length(ui, "Height, mm", 10.0..=1000.0, |i| &mut i.height_mm);
    f.length(ui, "Small letters, height in mm", 0.3..=20.0, |i| {
        &mut i.x_height_mm
    });
    f.area(ui, "Main panel", |i| &mut i.panel_area_cm2);
    f.area(ui, "Surface of the pack", |i| &mut i.surface_cm2);
}

fn lines_of<'t, T: From<&'t str>>(text: &'t str) -> Vec<T> {
    text.lines()
        .map(str::trim)
        .filter(|l| !l.is_empty())
        .map(Into::into)
        .collect()
}

fn net_contents(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    let (amount, mut unit) = match f.next.net_contents {
        Some(NetContents::Mass(mass)) => (Some(in_grams(mass)), 0),
        Some(NetContents::Volume(volume)) => (Some(in_millilitres(volume)), 1),
        Some(NetContents::Pieces(count)) => (Some(f64::from(count)), 2),
        None => (None, 1),
    };
    // Rounding of the unit conversion is not shown.
    let amount = amount.map(|a| tidy(a, 6));
    let before = unit;
    let typed = f.number(ui, "Net contents", amount, "amount", 0.1..=100_000.0);
    ui.horizontal(|ui| {
        // Under the field: after its words and the space behind them.
        ui.add_space(WORDS + ui.spacing().item_spacing.x);
        for (i, words) in ["g", "ml", "pieces"].into_iter().enumerate() {
            ui.radio_value(&mut unit, i, words);
        }
    });
    let changed = typed.is_some() || unit != before;
    let amount = typed.unwrap_or(amount);
    if changed {
        f.next.net_contents = amount.map(|a| match unit {
            0 => NetContents::Mass(grams(a)),
            1 => NetContents::Volume(millilitres(a)),
            _ => NetContents::Pieces(a.round().max(1.0) as u32),
        });
    }
}

fn durability(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    const KINDS: [&str; 4] = [
        "not stated",
        "months after opening",
        "best before a date",
        "no period needed",
    ];
    let now = match &f.next.durability {
        Durability::Unstated => 0,
        Durability::AfterOpening(_) => 1,
        Durability::BestBefore(_) => 2,
        Durability::NotNeeded(_) => 3,
    };
    let mut kind = now;
    ui.horizontal(|ui| {
        words(ui, "Keeps");
        let choice = ComboBox::from_id_salt("durability")
            .width(WIDTH)
            .selected_text(KINDS.get(kind).copied().unwrap_or_default())
            .show_ui(ui, |ui| {
                for (i, words) in KINDS.into_iter().enumerate() {
                    ui.selectable_value(&mut kind, i, words);
                }
            })
            .response
            .accessible_name("How long the product keeps");
        if f.led_to == Some(Stated::Durability) {
            choice.request_focus();
        }
    });
    if kind != now {
        f.next.durability = match kind {
            1 => Durability::AfterOpening(12),
            2 => Durability::BestBefore(f.view.state.today()),
            3 => Durability::NotNeeded("".into()),
            _ => Durability::Unstated,
        };
        return;
    }
    match f.next.durability.clone() {
        Durability::Unstated => {}
        Durability::AfterOpening(months) => {
            let (name, shown) = ("Months after opening", months.to_string());
            let entry = Entry::new(f.id(name), &shown, name).hint("months");
            let read = |text: &str| {
                let months = |t: &str| typed::count_within(t, "a number of months", 1, 120);
                typed::optional(text, months)
            };
            if let Some(Some(months)) = read_captioned(ui, name, entry, read) {
                f.next.durability = Durability::AfterOpening(months);
            }
        }
        Durability::BestBefore(date) => {
            let (name, shown) = ("Best before", date.to_string());
            let entry = Entry::new(f.id(name), &shown, name).hint("year-month-day");
            if let Some(date) = read_captioned(ui, name, entry, typed::day) {
                f.next.durability = Durability::BestBefore(date);
            }
        }
        Durability::NotNeeded(reason) => {
            if let Some(t) = f.free_text(ui, "Why", &reason, 1, "for example a single-use pack") {
                f.next.durability = Durability::NotNeeded(t.into());
            }
        }
    }
}

fn left_out(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    let mut gone = None;
    for (i, left) in f.view.variant.label.left_out.iter().enumerate() {
        let name = format!("Why {} is left off", left.inci);
        if let Some(t) = f.free_text(ui, &name, &left.reason, 1, "the reason") {
            f.next.left_out = f.view.variant.label.left_out.clone();
            if let Some(slot) = f.next.left_out.get_mut(i) {
                slot.reason = t.into();
            }
        }
        if ui.button(format!("List {} again", left.inci)).clicked() {
            gone = Some(i);
        }
    }
    if let Some(i) = gone {
        f.next.left_out.remove(i);
    }
    if let Some(t) = f.text(ui, "Leave off", "", 1, "INCI, if incidental") {
        let inci = t.trim();
        if !inci.is_empty() {
            f.next.left_out.push(LeftOut {
                inci: inci.into(),
                reason: "".into(),
            });
        }
    }
}
