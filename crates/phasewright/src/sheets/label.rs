//! The sheet Label: ingredient list and label text per market.
//!
//! At the left what the maker states, at the right what follows: the list, the rest of
//! the label, what is missing, and the facts that the formula supports.

use std::sync::Arc;

use eframe::egui::{
    self, Align, Button, Color32, ComboBox, Frame, Id, Layout, ScrollArea, TextEdit, Ui, Vec2,
};
use formulation::amount::{Measure, typed};
use formulation::batch::record::Record;
use formulation::batch::workshop::Paper;
use formulation::edit::Edit;
use formulation::file::label_pdf::labels_pdf;
use formulation::finding::Level;
use formulation::formula::{Date, Market};
use formulation::label::svg::{self, Drawing};
use formulation::label::{self, CAUTION, Ingredient, Label, Part, list_ground};
use formulation::label_info::{Durability, LabelInfo, LeftOut, NetContents};
use formulation::quantity::{grams, in_grams, in_millilitres, millilitres};

use crate::command::{Command, Export};
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::focus::region;

/// What a drawn label was made from.
#[derive(PartialEq)]
struct Key {
    document: DocumentId,
    revision: u64,
    evaluation: usize,
    market: Market,
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct LabelSheet {
    market: Option<Market>,
    made: Option<(Key, Label, Drawing)>,
    run: Run,
}

/// A run of labels to print, as it is typed.
#[derive(Default)]
struct Run {
    count: String,
    /// The code as it was typed, and for which document: never printed on another product.
    batch: Option<(DocumentId, String)>,
    paper: Paper,
    problem: Option<String>,
}

impl Run {
    /// The code typed for this formula, else that of its batch that is open under Make.
    fn code(&self, view: &View<'_>) -> String {
        if let Some((document, code)) = &self.batch
            && *document == view.document.id
        {
            return code.clone();
        }
        let of_this = |record: &&Record| record.opening().formula.name == view.formula.name;
        let open = view.state.works.open_record().filter(of_this);
        open.map_or_else(String::new, |record| record.code().to_string())
    }
}

/// Greatest width of the picture of the label.
const PICTURE: f32 = 460.0;
/// Width of the column of fields.
const FIELDS: f32 = 330.0;
/// Width of the words before a field.
const WORDS: f32 = 120.0;
/// Least width of the names in the table of ingredients.
const NAME: f32 = 200.0;
/// Width of the other columns of that table.
const OTHER_COLUMNS: f32 = 360.0;

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut LabelSheet, commands: &mut Vec<Command>) {
    let markets = &view.variant.product.markets;
    let market = sheet
        .market
        .or_else(|| markets.first().copied())
        .unwrap_or(Market::Eu);
    let key = Key {
        document: view.document.id,
        revision: view.document.revision(),
        evaluation: Arc::as_ptr(view.evaluation).addr(),
        market,
    };
    if sheet.made.as_ref().is_none_or(|(of, ..)| *of != key) {
        let label = label::label(view.formula, view.variant, view.evaluation, market);
        let drawing = svg::draw(&label, &view.variant.label);
        sheet.made = Some((key, label, drawing));
    }
    let Some((_, label, drawing)) = &sheet.made else {
        return;
    };
    let mut chosen = market;
    region(ui, "Market and saving", |ui| {
        bar(ui, view, &mut chosen, label, drawing, commands);
        run(ui, view, &mut sheet.run, market, commands);
    });
    ui.add_space(theme::TIGHT);
    egui::Panel::left("label fields")
        .exact_size(FIELDS + theme::GAP * 2.0)
        .resizable(false)
        .show(ui, |ui| {
            region(ui, "What you state", |ui| {
                ScrollArea::vertical()
                    .id_salt("fields")
                    .auto_shrink([false, false])
                    .show(ui, |ui| {
                        ui.set_width(FIELDS);
                        fields(ui, view, label, commands);
                    });
            });
        });
    egui::CentralPanel::default().show(ui, |ui| {
        region(ui, "The label", |ui| {
            ScrollArea::vertical()
                .id_salt("label")
                .auto_shrink([false, false])
                .show(ui, |ui| {
                    picture(ui, view, drawing);
                    list(ui, view, label, commands);
                    rest(ui, label);
                    facts(ui, label);
                    ui.add_space(theme::GAP);
                    ui.label(theme::small(ui, CAUTION));
                });
        });
    });
    if chosen != market {
        sheet.market = Some(chosen);
    }
}

fn bar(
    ui: &mut Ui,
    view: &View<'_>,
    chosen: &mut Market,
    label: &Label,
    drawing: &Drawing,
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Label for");
        for market in Market::ALL {
            ui.selectable_value(chosen, market, market.label())
                .on_hover_text(list_ground(market));
        }
        ui.separator();
        if ui
            .button("Copy the list")
            .on_hover_text("The ingredient list goes to the clipboard")
            .clicked()
        {
            ui.copy_text(label.ingredients.text());
            commands.push(Command::Say(
                Level::Note,
                "The ingredient list is on the clipboard".to_owned(),
            ));
        }
        if ui
            .button("Copy the label")
            .on_hover_text("The whole text of the label goes to the clipboard")
            .clicked()
        {
            ui.copy_text(label.text());
            commands.push(Command::Say(
                Level::Note,
                "The text of the label is on the clipboard".to_owned(),
            ));
        }
        let stem = format!("{} label {}", view.formula.name, label.market.label());
        if ui
            .button("Save as text…")
            .on_hover_text("Plain text with the ground of every part")
            .clicked()
        {
            commands.push(Command::Export(Export {
                title: "Save the label as text".to_owned(),
                file_name: format!("{stem}.txt"),
                bytes: formulation::file::label_report::text(label)
                    .into_bytes()
                    .into(),
            }));
        }
        if ui
            .button("Save as SVG…")
            .on_hover_text(format!(
                "The label at {:.0} by {:.0} mm, with the text height chosen here",
                view.variant.label.width_mm, drawing.height_mm
            ))
            .clicked()
        {
            commands.push(Command::Export(Export {
                title: "Save the label as SVG".to_owned(),
                file_name: format!("{stem}.svg"),
                bytes: drawing.svg.clone().into_bytes().into(),
            }));
        }
        let p = theme::palette(ui);
        let info = &view.variant.label;
        if drawing.fits {
            ui.label(theme::small(
                ui,
                format!(
                    "Text takes {:.0} of {:.0} mm",
                    drawing.needs_height_mm, info.height_mm
                ),
            ));
        } else {
            ui.colored_label(
                p.level(Level::Caution),
                format!(
                    "Text needs {:.0} mm, the label has {:.0}",
                    drawing.needs_height_mm, info.height_mm
                ),
            );
        }
    });
}

/// A run of labels for one batch, on sheets to print and cut.
fn run(ui: &mut Ui, view: &View<'_>, run: &mut Run, market: Market, commands: &mut Vec<Command>) {
    ui.horizontal_wrapped(|ui| {
        let mut batch = run.code(view);
        ui.label("Labels to print");
        ui.add(
            TextEdit::singleline(&mut run.count)
                .hint_text("24")
                .desired_width(48.0),
        )
        .accessible_name("How many labels");
        ui.label("for batch");
        let typed = ui
            .add(
                TextEdit::singleline(&mut batch)
                    .hint_text("its code")
                    .desired_width(110.0),
            )
            .accessible_name("Batch code on the labels");
        if typed.changed() {
            run.batch = Some((view.document.id, batch));
        }
        ComboBox::from_id_salt("paper of the labels")
            .selected_text(run.paper.label())
            .width(90.0)
            .show_ui(ui, |ui| {
                for paper in Paper::ALL {
                    ui.selectable_value(&mut run.paper, paper, paper.label());
                }
            })
            .response
            .accessible_name("Paper");
        if ui
            .button("Save as PDF…")
            .on_hover_text("Sheets to print at 100 % and to cut; the date on them is the one stated at the left")
            .clicked()
        {
            match run_pdf(view, run, market) {
                Ok(export) => {
                    run.problem = None;
                    commands.push(Command::Export(export));
                }
                Err(problem) => run.problem = Some(problem),
            }
        }
        if let Some(problem) = &run.problem {
            ui.colored_label(theme::palette(ui).level(Level::Breach), problem);
        }
    });
}

fn run_pdf(view: &View<'_>, run: &Run, market: Market) -> Result<Export, String> {
    let count = match run.count.trim() {
        "" => 24,
        typed => typed
            .parse()
            .map_err(|_error| format!("“{typed}” is no whole number of labels"))?,
    };
    let mut variant = view.variant.as_ref().clone();
    variant.label = variant.label.of_batch(&run.code(view), None).into();
    let label = label::label(view.formula, &variant, view.evaluation, market);
    let drawing = svg::draw(&label, &variant.label);
    let title = variant.label.run_title(&view.formula.name);
    let bytes = labels_pdf(&drawing, &variant.label, &title, count, run.paper)
        .map_err(|e| e.to_string())?;
    Ok(Export {
        title: "Save the labels to print".to_owned(),
        file_name: format!("{title} labels {}.pdf", market.label()),
        bytes: bytes.into(),
    })
}

/// The label as it is printed, drawn from the lines that the SVG has.
fn picture(ui: &mut Ui, view: &View<'_>, drawing: &Drawing) {
    let info = &view.variant.label;
    let width = (ui.available_width() - theme::GAP).min(PICTURE);
    let scale = width / info.width_mm.max(1.0) as f32;
    let height = drawing.height_mm as f32 * scale;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, height), egui::Sense::hover());
    // Its words stand as text below.
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Image, true, "The label as it prints")
    });
    if !ui.is_rect_visible(rect) {
        return;
    }
    let p = theme::palette(ui);
    let painter = ui.painter_at(rect.expand(1.0));
    // Paper is white and ink is black in every theme.
    painter.rect_filled(rect, 0.0, Color32::WHITE);
    painter.rect_stroke(
        rect,
        0.0,
        egui::Stroke::new(1.0, p.rule),
        egui::StrokeKind::Inside,
    );
    let at = |x: f64, y: f64| rect.min + Vec2::new(x as f32 * scale, y as f32 * scale);
    for line in &drawing.lines {
        let font = |size: f32| egui::FontId::proportional(size);
        let size = line.size_mm as f32 * scale;
        let lay = |size: f32| painter.layout_no_wrap(line.text.clone(), font(size), Color32::BLACK);
        // The same font may be set at another size by the window than in print.
        let first = lay(size);
        let wanted = line.width_mm as f32 * scale;
        let galley = if first.size().x > 1.0 && wanted > 1.0 {
            lay(size * wanted / first.size().x)
        } else {
            first
        };
        let base = galley.size().y * svg::baseline_share() as f32;
        painter.galley(
            at(line.x_mm, line.y_mm) - Vec2::new(0.0, base),
            galley,
            Color32::BLACK,
        );
        if line.jar {
            let corner = at(line.x_mm - 1.2 * line.size_mm, line.y_mm);
            jar(&painter, corner, size);
        }
    }
    if !drawing.fits {
        let end = at(0.0, info.height_mm).y;
        let colour = p.level(Level::Caution);
        painter.hline(rect.x_range(), end, egui::Stroke::new(1.5, colour));
        ui.colored_label(
            colour,
            format!(
                "The label of {:.0} mm ends at the line; the text needs {:.0} mm. Make the label larger or the letters smaller; what is saved is as high as the text.",
                info.height_mm, drawing.needs_height_mm
            ),
        );
    }
    ui.add_space(theme::GAP);
}

/// The open jar, as in the SVG: a body with a rim, and the lid beside it.
fn jar(painter: &egui::Painter, corner: egui::Pos2, size: f32) {
    let stroke = egui::Stroke::new((0.08 * size).max(1.0), Color32::BLACK);
    let place = |(x, y): (f32, f32)| corner + Vec2::new(x * size, y * size);
    for outline in svg::OPEN_JAR {
        let points = outline.iter().map(|p| place(*p)).collect();
        painter.add(egui::Shape::closed_line(points, stroke));
    }
}

/// The ingredient list, with the order explained and where each comes from.
fn list(ui: &mut Ui, view: &View<'_>, label: &Label, commands: &mut Vec<Command>) {
    ui.label(theme::heading("Ingredients"));
    ui.label(theme::small(ui, list_ground(label.market)));
    let p = theme::palette(ui);
    Frame::new()
        .fill(p.page)
        .stroke(egui::Stroke::new(1.0, p.rule))
        .inner_margin(theme::GAP)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.add(
                egui::Label::new(label.ingredients.text())
                    .wrap()
                    .selectable(true),
            );
        });
    ui.add_space(theme::TIGHT);
    let ingredients = &label.ingredients.ingredients;
    // The other columns take what is left beside the name.
    let name_width = (ui.available_width() - OTHER_COLUMNS).clamp(NAME, 2.0 * NAME);
    egui::Grid::new("ingredients")
        .num_columns(4)
        .striped(true)
        .spacing([theme::GAP, 2.0])
        .show(ui, |ui| {
            for words in ["Ingredient", "Share at the time of adding", "Order", ""] {
                ui.label(theme::small(ui, words));
            }
            ui.end_row();
            for (place, ingredient) in ingredients.iter().enumerate() {
                ui.push_id(&ingredient.inci, |ui| {
                    let response = ui
                        .allocate_ui_with_layout(
                            Vec2::new(name_width, theme::FIELD),
                            Layout::left_to_right(Align::Center),
                            |ui| {
                                ui.set_min_width(name_width);
                                ui.add(Button::new(&ingredient.name).frame(false).truncate())
                            },
                        )
                        .inner
                        .on_hover_text(format!(
                            "INCI {}; choose the lines that bring it in",
                            ingredient.inci
                        ));
                    if response.clicked() {
                        commands.push(Command::Choose(ingredient.lines.iter().copied().collect()));
                    }
                });
                ui.label(share(ingredient));
                ui.label(theme::small(ui, ingredient.part.label()));
                moves(ui, view, ingredients, place, commands);
                ui.end_row();
            }
        });
    let list = &label.ingredients;
    bullets(ui, "About the list", &list.remarks);
    let not_listed: Vec<String> = list
        .not_listed
        .iter()
        .map(|n| {
            let by = if n.by_maker { " (left off by you)" } else { "" };
            format!(
                "{}, {}{by}: {}",
                n.inci,
                Measure::SHARE.shown(n.share.typical.as_percent()),
                n.reason
            )
        })
        .collect();
    bullets(ui, "In the mix, not listed", &not_listed);
}

fn share(ingredient: &Ingredient) -> String {
    let s = ingredient.share;
    let (low, typical, high) = (
        s.low.as_percent(),
        s.typical.as_percent(),
        s.high.as_percent(),
    );
    let measure = Measure::SHARE;
    let [low, high] = [low, high].map(|v| measure.digits_of(v));
    let typical = measure.shown(typical);
    if low == high {
        typical
    } else {
        format!("{typical} ({low} to {high})")
    }
}

/// Buttons that move an ingredient whose place the maker may choose.
fn moves(
    ui: &mut Ui,
    view: &View<'_>,
    ingredients: &[Ingredient],
    place: usize,
    commands: &mut Vec<Command>,
) {
    let free = |i: usize| {
        ingredients
            .get(i)
            .is_some_and(|other| other.part != Part::ByWeight)
    };
    let same_block = |a: usize, b: usize| {
        let colour = |i: usize| ingredients.get(i).map(|o| o.part == Part::Colorant);
        free(a) && free(b) && colour(a) == colour(b)
    };
    let Some(ingredient) = ingredients.get(place) else {
        return;
    };
    if !free(place) {
        ui.label("");
        return;
    }
    ui.push_id(("move", &ingredient.inci), |ui| {
        ui.horizontal(|ui| {
            let earlier = place.checked_sub(1).filter(|&e| same_block(e, place));
            let later = Some(place + 1).filter(|&l| same_block(place, l));
            for (to, words, name) in [(earlier, "↑", "earlier"), (later, "↓", "later")] {
                let response = ui
                    .add_enabled(to.is_some(), Button::new(words).small())
                    .accessible_name(format!("{} {name}", ingredient.name));
                if let (true, Some(to)) = (response.clicked(), to) {
                    let mut order: Vec<usize> =
                        (0..ingredients.len()).filter(|&i| free(i)).collect();
                    if let (Some(a), Some(b)) = (
                        order.iter().position(|&i| i == place),
                        order.iter().position(|&i| i == to),
                    ) {
                        order.swap(a, b);
                    }
                    edit(view, commands, |info| {
                        info.low_order = order
                            .iter()
                            .filter_map(|&i| ingredients.get(i))
                            .map(|i| i.inci.clone())
                            .collect();
                    });
                }
            }
        });
    });
}

fn edit(view: &View<'_>, commands: &mut Vec<Command>, change: impl FnOnce(&mut LabelInfo)) {
    let mut info = view.variant.label.as_ref().clone();
    change(&mut info);
    if info != *view.variant.label {
        commands.push(Command::Edit(Edit::SetLabel(Arc::new(info))));
    }
}

/// The other parts of the label, what is missing and what to mind.
fn rest(ui: &mut Ui, label: &Label) {
    let p = theme::palette(ui);
    ui.add_space(theme::GAP);
    ui.label(theme::heading("The rest of the label"));
    for missing in &label.missing {
        let (level, word) = if missing.required {
            (Level::Breach, "Missing")
        } else {
            (Level::Caution, "Advised")
        };
        ui.horizontal_wrapped(|ui| {
            ui.colored_label(p.level(level), theme::strong(word));
            ui.label(&missing.what).on_hover_text(&missing.ground);
            ui.label(theme::small(ui, &missing.ground));
        });
    }
    ui.add_space(theme::TIGHT);
    egui::Grid::new("sections")
        .num_columns(2)
        .striped(true)
        .spacing([theme::GAP, 4.0])
        .show(ui, |ui| {
            for section in &label.sections {
                ui.label(theme::small(ui, section.title));
                ui.vertical(|ui| {
                    ui.set_max_width(ui.available_width().max(200.0));
                    ui.add(egui::Label::new(&section.text).wrap());
                    ui.add(egui::Label::new(theme::small(ui, &section.ground)).wrap());
                });
                ui.end_row();
            }
        });
    let advice: Vec<String> = label
        .advice
        .iter()
        .map(|a| format!("{} ({})", a.text, a.ground))
        .collect();
    bullets(ui, "To mind", &advice);
}

fn bullets(ui: &mut Ui, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(title));
    for line in lines {
        ui.add(egui::Label::new(format!("• {line}")).wrap());
    }
}

/// Facts, never words of praise.
fn facts(ui: &mut Ui, label: &Label) {
    ui.add_space(theme::GAP);
    ui.label(theme::heading("Facts"));
    ui.label(theme::small(
        ui,
        "As computed from the declared constituents. Whether a claim is fair and allowed is another question: Regulation (EU) No 655/2013.",
    ));
    for claim in &label.claims {
        ui.add(egui::Label::new(format!("• {}", claim.words())).wrap())
            .on_hover_text(&claim.ground);
    }
}

/// What was typed into a field for a number.
#[derive(Clone, Copy, PartialEq)]
enum Typed {
    /// Nothing, or nothing that counts.
    Unchanged,
    /// The number was taken out.
    Cleared,
    /// A number.
    Number(f64),
}

impl Typed {
    /// The value after it, `now` being the one before.
    const fn over(self, now: Option<f64>) -> Option<f64> {
        match self {
            Self::Unchanged => now,
            Self::Cleared => None,
            Self::Number(number) => Some(number),
        }
    }
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
    problems: Vec<String>,
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
        ui.horizontal(|ui| {
            words(ui, name);
            Entry::new(self.id(name), shown, name)
                .width(FIELDS - WORDS - theme::GAP * 2.0)
                .lines(lines)
                .hint(hint)
                .show(ui)
                .done
        })
        .inner
    }

    fn number(
        &mut self,
        ui: &mut Ui,
        name: &str,
        shown: Option<f64>,
        hint: &str,
        range: std::ops::RangeInclusive<f64>,
    ) -> Typed {
        let shown = shown.map_or_else(String::new, |n| n.to_string());
        let Some(typed) = self.text(ui, name, &shown, 1, hint) else {
            return Typed::Unchanged;
        };
        let measure = Measure::NUMBER.within(*range.start(), *range.end());
        match typed::optional(&typed, |text| typed::value(text, &measure)) {
            Ok(None) => Typed::Cleared,
            Ok(Some(number)) => Typed::Number(number),
            Err(problem) => {
                self.problems.push(format!("{name}: {problem}"));
                Typed::Unchanged
            }
        }
    }
}

fn fields(ui: &mut Ui, view: &View<'_>, label: &Label, commands: &mut Vec<Command>) {
    let info = view.variant.label.as_ref();
    let mut f = Fields {
        view,
        next: info.clone(),
        problems: Vec::new(),
    };
    ui.label(theme::heading("What you state"));
    let own_name = view.formula.name.clone();
    if let Some(t) = f.text(ui, "Name", &info.product_name, 1, &own_name) {
        f.next.product_name = t.into();
    }
    if let Some(t) = f.text(ui, "Function", &info.function, 1, "what it is") {
        f.next.function = t.into();
    }
    net_contents(ui, &mut f);
    durability(ui, &mut f);
    if let Some(t) = f.text(ui, "Batch code", &info.batch_code, 1, "or where it stands") {
        f.next.batch_code = t.into();
    }
    if let Some(t) = f.text(ui, "Directions", &info.directions, 2, "how to use it") {
        f.next.directions = t.into();
    }
    if let Some(t) = f.text(
        ui,
        "Your cautions",
        &info.cautions.join("\n"),
        2,
        "one a line",
    ) {
        f.next.cautions = lines_of(&t);
    }
    let person = if label.market == Market::Us {
        "Manufacturer or distributor"
    } else {
        "Responsible person"
    };
    if let Some(t) = f.text(ui, person, &info.responsible_person, 3, "name and address") {
        f.next.responsible_person = t.into();
    }
    if let Some(t) = f.text(
        ui,
        "US contact",
        &info.us_contact,
        1,
        "address, telephone or site",
    ) {
        f.next.us_contact = t.into();
    }
    if let Some(t) = f.text(ui, "Country of origin", &info.country, 1, "made in") {
        f.next.country = t.into();
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("The list"));
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
    if let Some(t) = f.text(
        ui,
        "May contain",
        &info.may_contain.join("\n"),
        2,
        "colorants of other shades, one a line",
    ) {
        f.next.may_contain = lines_of(&t);
    }
    left_out(ui, &mut f);
    if !info.low_order.is_empty() && ui.button("Order by weight again").clicked() {
        f.next.low_order.clear();
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong("Size"));
    if let Typed::Number(n) = f.number(ui, "Width", Some(info.width_mm), "mm", 10.0..=1000.0) {
        f.next.width_mm = n;
    }
    if let Typed::Number(n) = f.number(ui, "Height", Some(info.height_mm), "mm", 10.0..=1000.0) {
        f.next.height_mm = n;
    }
    if let Typed::Number(n) = f.number(
        ui,
        "Height of small letters",
        Some(info.x_height_mm),
        "mm",
        0.3..=20.0,
    ) {
        f.next.x_height_mm = n;
    }
    f.next.panel_area_cm2 = f
        .number(
            ui,
            "Main panel",
            info.panel_area_cm2,
            "cm², for the US",
            0.1..=100_000.0,
        )
        .over(f.next.panel_area_cm2);
    f.next.surface_cm2 = f
        .number(
            ui,
            "Surface of the pack",
            info.surface_cm2,
            "cm², for the US",
            0.1..=100_000.0,
        )
        .over(f.next.surface_cm2);
    for problem in f.problems {
        commands.push(Command::Say(Level::Caution, problem));
    }
    if f.next != *info {
        commands.push(Command::Edit(Edit::SetLabel(Arc::new(f.next))));
    }
}

fn lines_of(text: &str) -> Vec<Arc<str>> {
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
    let amount = amount.map(|a| (a * 1e6).round() / 1e6);
    let before = unit;
    let typed = f.number(ui, "Net contents", amount, "amount", 0.1..=100_000.0);
    ui.horizontal(|ui| {
        ui.add_space(WORDS + theme::TIGHT);
        for (i, words) in ["g", "ml", "pieces"].into_iter().enumerate() {
            ui.radio_value(&mut unit, i, words);
        }
    });
    let changed = typed != Typed::Unchanged || unit != before;
    let amount = typed.over(amount);
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
        ComboBox::from_id_salt("durability")
            .width(FIELDS - WORDS - theme::GAP * 2.0)
            .selected_text(KINDS[kind])
            .show_ui(ui, |ui| {
                for (i, words) in KINDS.into_iter().enumerate() {
                    ui.selectable_value(&mut kind, i, words);
                }
            })
            .response
            .accessible_name("How long the product keeps");
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
            let typed = f.number(
                ui,
                "Months after opening",
                Some(f64::from(months)),
                "months",
                1.0..=120.0,
            );
            if let Typed::Number(n) = typed {
                f.next.durability = Durability::AfterOpening(n.round() as u32);
            }
        }
        Durability::BestBefore(date) => {
            if let Some(t) = f.text(ui, "Best before", &date.to_string(), 1, "year-month-day") {
                match t.trim().parse::<Date>() {
                    Ok(date) => f.next.durability = Durability::BestBefore(date),
                    Err(_) => f
                        .problems
                        .push(format!("“{t}” is not a day; type it as 2027-03-31")),
                }
            }
        }
        Durability::NotNeeded(reason) => {
            if let Some(t) = f.text(ui, "Why", &reason, 1, "for example a single-use pack") {
                f.next.durability = Durability::NotNeeded(t.into());
            }
        }
    }
}

fn left_out(ui: &mut Ui, f: &mut Fields<'_, '_>) {
    let mut gone = None;
    for (i, left) in f.view.variant.label.left_out.iter().enumerate() {
        let name = format!("Why {} is left off", left.inci);
        if let Some(t) = f.text(ui, &name, &left.reason, 1, "the reason") {
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
    if let Some(t) = f.text(ui, "Leave off", "", 1, "INCI name of what is incidental") {
        let inci = t.trim();
        if !inci.is_empty() {
            f.next.left_out.push(LeftOut {
                inci: inci.into(),
                reason: "".into(),
            });
        }
    }
}
