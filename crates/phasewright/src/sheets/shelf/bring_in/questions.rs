//! What is asked, each question once for all rows in which it comes up; below it what was
//! assumed and what was left out.

use eframe::egui::{self, ComboBox, Id, Ui};
use formulation::file::answers::Answers;
use formulation::file::table::TableOrigin;
use formulation::file::table::price_list::DayOrder;
use formulation::file::table::questions::{self, Asked, Question};
use formulation::file::table::recipe::{LeftOutRow, LineQuantity, MaterialChoice};
use formulation::finding::Level;
use formulation::formula::Kinds;
use formulation::inventory::{self, inventory};
use formulation::material::ProductKind;
use formulation::naming::{How, Wanted};

use super::super::capital;
use super::part::{Part, Said};
use super::reading::Read;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::level_mark::level_mark;
use crate::widgets::refusal::{accept, refusal, refused};
use crate::words::counted;

/// Most candidates shown as buttons; the others are in a list.
const BUTTONS: usize = 3;

/// Most questions shown at a time; nobody reads more, and drawing thousands takes long.
const MOST_SHOWN: usize = 60;
/// Most rows left out and remarks that are listed; the table shows every row.
const MOST_LISTED: usize = 200;

/// What was answered that holds for every recipe taken in.
#[derive(Default)]
pub(super) struct Answered {
    /// What the product is.
    pub(super) kinds: Option<Kinds>,
    /// What materials as written mean.
    pub(super) materials: Vec<(Wanted, MaterialChoice)>,
}

/// Draws what is asked about a recipe or a list.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, part: &mut Part, answers: &mut Answers) -> Answered {
    let (mut kinds, mut days) = (None, None);
    let open = part.questions();
    let origin = part.section.table.origin.clone();
    let origin = origin.as_deref();
    let mut settled = Settled::default();
    match part.read_mut() {
        Some(Read::Recipe(proposal)) => {
            let fills = !proposal.has_rest();
            for problem in &proposal.problems {
                remark(ui, Level::Breach, &problem.to_string());
            }
            if proposal.kind_assumed {
                kinds = ask_kinds(ui, proposal.head.active().product.kinds);
            }
            settled = ask_all(
                ui,
                view,
                (&open, fills, origin),
                &mut proposal.lines,
                answers,
            );
            for words in proposal.assumed.iter().take(MOST_LISTED) {
                // The kind is asked above.
                if !(proposal.kind_assumed && words.contains("--kind")) {
                    remark(ui, Level::Caution, words);
                }
            }
            more_remarks(ui, proposal.assumed.len());
            new_materials(ui, &proposal.lines);
            for note in &proposal.notes {
                remark(ui, Level::Note, note);
            }
            left_out(ui, &proposal.left_out, origin);
        }
        Some(Read::Prices(list)) => {
            if let Some(example) = &list.open_days {
                days = ask_day_order(ui, example);
            }
            settled = ask_all(ui, view, (&open, false, origin), &mut list.prices, answers);
            for words in list.assumed.iter().take(MOST_LISTED) {
                if !(list.open_days.is_some() && words.contains("--dates")) {
                    remark(ui, Level::Caution, words);
                }
            }
            more_remarks(ui, list.assumed.len());
            for note in &list.notes {
                remark(ui, Level::Note, note);
            }
            left_out(ui, &list.left_out, origin);
        }
        None => {}
    }
    if settled.any {
        part.touched();
        part.agreed.extend(settled.agreed);
    }
    for said in settled.said {
        part.say(ui, said);
    }
    if days.is_some() {
        part.settings.days = days;
        part.begin_anew();
    }
    Answered {
        kinds,
        materials: settled.chosen,
    }
}

/// A sentence of the reader; what it says of the command line is no use here.
pub(super) fn remark(ui: &mut Ui, level: Level, words: &str) {
    let parts: Vec<&str> = words
        .split_inclusive([';', ','])
        .filter(|part| !part.contains("--"))
        .collect();
    let words = parts.concat();
    let words = words.trim().trim_end_matches([';', ',']);
    ui.horizontal_top(|ui| {
        level_mark(ui, level);
        ui.add(egui::Label::new(capital(words)).wrap());
    });
}

/// Which materials are new, so that nobody takes one in unseen.
fn new_materials<L: Asked>(ui: &mut Ui, lines: &[L]) {
    /// More are counted only.
    const MOST: usize = 8;
    let mut names: Vec<&str> = Vec::new();
    for line in lines {
        let name = line.wanted().name.as_str();
        if *line.choice() == MaterialChoice::New && !names.contains(&name) {
            names.push(name);
        }
    }
    if names.is_empty() {
        return;
    }
    let more = match names.len().saturating_sub(MOST) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let count = counted(names.len(), "new material");
    names.truncate(MOST);
    let words = format!(
        "{count}: “{}”{more}; say on the shelf what is in it",
        names.join("”, “")
    );
    remark(ui, Level::Note, &words);
}

/// What of many remarks is not listed.
fn more_remarks(ui: &mut Ui, count: usize) {
    let more = count.saturating_sub(MOST_LISTED);
    if more > 0 {
        let words = format!("and {} more", counted(more, "remark"));
        remark(ui, Level::Caution, &words);
    }
}

fn card(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let p = theme::palette(ui);
    egui::Frame::new()
        .fill(p.level_wash(Level::Caution))
        .corner_radius(4.0)
        .inner_margin(8.0)
        .outer_margin(egui::Margin {
            bottom: 6,
            ..egui::Margin::ZERO
        })
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui);
        });
}

fn ask_kinds(ui: &mut Ui, assumed: Kinds) -> Option<Kinds> {
    let mut chosen = None;
    card(ui, |ui| {
        ui.horizontal_top(|ui| {
            level_mark(ui, Level::Caution);
            let words = format!(
                "Is the product washed off or left on? Nothing says it outright; it was taken as {}.",
                assumed.label()
            );
            ui.add(egui::Label::new(words).wrap());
        });
        ui.horizontal_wrapped(|ui| {
            for kinds in ProductKind::ALL
                .map(Kinds::Only)
                .into_iter()
                .chain([Kinds::Both])
            {
                if ui.button(capital(kinds.label())).clicked() {
                    chosen = Some(kinds);
                }
            }
        });
    });
    chosen
}

fn ask_day_order(ui: &mut Ui, example: &str) -> Option<DayOrder> {
    let mut chosen = None;
    card(ui, |ui| {
        ui.horizontal_top(|ui| {
            level_mark(ui, Level::Caution);
            let words = format!("What stands first in days such as {example}?");
            ui.add(egui::Label::new(words).wrap());
        });
        ui.horizontal_wrapped(|ui| {
            for (order, word) in [
                (DayOrder::DayFirst, "The day"),
                (DayOrder::MonthFirst, "The month"),
            ] {
                if ui.button(word).clicked() {
                    chosen = Some(order);
                }
            }
        });
    });
    chosen
}

/// What was settled in this frame.
#[derive(Default)]
struct Settled {
    any: bool,
    /// Rows whose amounts the maker has agreed to.
    agreed: Vec<usize>,
    /// What materials as written mean.
    chosen: Vec<(Wanted, MaterialChoice)>,
    /// What is said of amounts.
    said: Vec<Said>,
}

/// Asks about lines; what is chosen is settled in all rows that say the same. A line may be
/// let take up the rest if none `fills` yet.
fn ask_all<L: Asked>(
    ui: &mut Ui,
    view: &View<'_>,
    (open, fills, origin): (&[Question], bool, Option<&TableOrigin>),
    lines: &mut [L],
    answers: &mut Answers,
) -> Settled {
    let mut settled = Settled::default();
    for question in open.iter().take(MOST_SHOWN) {
        let mut chosen = None;
        let mut agree = false;
        card(ui, |ui| {
            head(ui, question, origin);
            ui.horizontal_wrapped(|ui| {
                if question.of_material {
                    chosen = material_buttons(ui, view, question);
                    return;
                }
                agree = ui
                    .button("Take it so")
                    .on_hover_text("The amount is right as it was read")
                    .clicked();
                let alone = is_alone(lines, question);
                settled.said.extend(ask_amount(ui, question, fills, alone));
            });
            for field in [field_of_amount(question), field_of_measure(question)] {
                let typed = refused(ui, field).unwrap_or_default();
                refusal(ui, field, &typed);
            }
        });
        if let Some(choice) = chosen {
            questions::settle(lines, &question.wanted, &choice);
            answers.learn(&question.wanted, &choice, view.state.shelf());
            settled.any = true;
            settled.chosen.push((question.wanted.clone(), choice));
        }
        if agree {
            settled.any = true;
            settled.agreed.extend(&question.rows);
            for line in lines
                .iter_mut()
                .filter(|l| question.rows.contains(&l.row()))
            {
                line.accept_amount();
            }
        }
    }
    let more = open.len().saturating_sub(MOST_SHOWN);
    if more > 0 {
        let words = format!(
            "{} more, which come up as these are settled",
            counted(more, "question")
        );
        remark(ui, Level::Caution, &words);
    }
    settled
}

/// Whether each row of a question has one line, so that an amount said for the row is that of
/// the line.
fn is_alone<L: Asked>(lines: &[L], question: &Question) -> bool {
    let lines_of = |row: usize| lines.iter().filter(|l| l.row() == row).count();
    question.rows.iter().all(|row| lines_of(*row) == 1)
}

fn field_of_amount(question: &Question) -> Id {
    Id::unique(("amount said", &question.rows, &question.wanted.name))
}

fn field_of_measure(question: &Question) -> Id {
    Id::unique(("measure said", &question.rows, &question.wanted.name))
}

/// The other answers to a question about an amount: it takes up the rest, it is another, or what
/// one of its measure weighs.
fn ask_amount(ui: &mut Ui, question: &Question, fills: bool, alone: bool) -> Option<Said> {
    let mut said = None;
    let amount = question.amount.as_ref()?;
    if let (LineQuantity::AsNeeded, [row], true, true) =
        (amount, question.rows.as_slice(), fills, alone)
        && ui
            .button("It takes up the rest")
            .on_hover_text("The line fills up the recipe to 100 %")
            .clicked()
    {
        said = Some(Said::Rest(*row));
    }
    if let Some(name) = question.measure {
        ui.label(format!("or {name} weighs"));
        let field = field_of_measure(question);
        let typed = typed_in(ui, field, format!("What {name} weighs"), "0.05 g");
        said = said.or_else(|| typed.map(|typed| Said::Measure { name, typed, field }));
        return said;
    }
    if alone {
        ui.label("or it is");
        let field = field_of_amount(question);
        let named = format!("Amount of “{}”", question.wanted.name);
        let typed = typed_in(ui, field, named, example_like(amount));
        said = said.or_else(|| {
            typed.map(|typed| Said::Amount {
                rows: question.rows.clone(),
                typed,
                field,
            })
        });
    }
    said
}

/// An amount in the unit of another, as an example.
const fn example_like(amount: &LineQuantity) -> &'static str {
    match amount {
        LineQuantity::Percent(_) | LineQuantity::Rest | LineQuantity::AsNeeded => "3 %",
        LineQuantity::Grams(_) => "3 g",
        LineQuantity::Millilitres(_) => "3 ml",
        LineQuantity::Parts(_) => "3",
    }
}

/// A short field; what was typed in it, when one is done.
fn typed_in(ui: &mut Ui, field: Id, name: String, hint: &str) -> Option<String> {
    let shown = refused(ui, field).unwrap_or_default();
    let entry = Entry::new(field, &shown, name).hint(hint).width(72.0);
    let typed = entry.show(ui).done?;
    accept(ui, field);
    (!typed.trim().is_empty()).then_some(typed)
}

/// Where a row, counted from 1, stands in the file: its number, or its cells where they were put
/// elsewhere to be read.
pub(super) fn place_words(row: usize, origin: Option<&TableOrigin>) -> String {
    let cells = origin.and_then(|origin| origin.cells_of(row.checked_sub(1)?));
    match cells {
        Some((first, last)) if first == last => first,
        Some((first, last)) => format!("{first} to {last}"),
        None => row.to_string(),
    }
}

/// Which rows and what is not known.
fn head(ui: &mut Ui, question: &Question, origin: Option<&TableOrigin>) {
    let rows: Vec<String> = question
        .rows
        .iter()
        .take(8)
        .map(|row| place_words(*row, origin))
        .collect();
    let more = question.rows.len().saturating_sub(8);
    let what = match (origin, question.rows.len()) {
        (Some(_), _) => "Cells",
        (None, 1) => "Row",
        (None, _) => "Rows",
    };
    let rows = match more {
        0 => format!("{what} {}", rows.join(", ")),
        more => format!("{what} {} and {more} more", rows.join(", ")),
    };
    ui.horizontal_top(|ui| {
        level_mark(ui, Level::Caution);
        let inci = if question.wanted.inci.is_empty() {
            String::new()
        } else {
            format!(", INCI {}", question.wanted.inci)
        };
        let words = format!("{rows}: “{}”{inci}", question.wanted.name);
        ui.add(egui::Label::new(theme::strong(words)).wrap());
    });
    let doubts = if question.doubts.is_empty() {
        "which material is it?".to_owned()
    } else {
        question.doubts.join("; ")
    };
    ui.add(egui::Label::new(capital(&doubts)).wrap());
}

/// Buttons for the likeliest materials and a list of all; what was chosen.
fn material_buttons(ui: &mut Ui, view: &View<'_>, question: &Question) -> Option<MaterialChoice> {
    let mut chosen = None;
    let whole = match question.rows.len() {
        1 => String::new(),
        many => format!(" in all {many} rows"),
    };
    for candidate in question.candidates.iter().take(BUTTONS) {
        let hover = if candidate.against.is_empty() {
            candidate.how.label().to_owned()
        } else {
            format!("{}, but {}", candidate.how.label(), candidate.against)
        };
        let response = ui
            .button(&*candidate.name)
            .on_hover_text(format!("Take it{whole}: {hover}"));
        if response.clicked() {
            chosen = Some(MaterialChoice::Known(candidate.id.clone(), How::Chosen));
        }
    }
    if ui
        .button("A new material")
        .on_hover_text(format!("Nothing on the shelf is it{whole}"))
        .clicked()
    {
        chosen = Some(MaterialChoice::New);
    }
    let others: Vec<MaterialChoice> = question
        .candidates
        .iter()
        .skip(BUTTONS)
        .map(|c| MaterialChoice::Known(c.id.clone(), How::Chosen))
        .chain(
            question
                .suggestions
                .iter()
                .map(|inci| MaterialChoice::NewPure(inci)),
        )
        .collect();
    if !others.is_empty() {
        ComboBox::from_id_salt(("others", question.rows.first()))
            .selected_text("Another…")
            .show_ui(ui, |ui| {
                for choice in others {
                    if ui.button(choice_words(view, &choice)).clicked() {
                        chosen = Some(choice);
                    }
                }
            })
            .response
            .accessible_name(format!("Another material for “{}”", question.wanted.name));
    }
    chosen
}

/// What a row is taken as, in words.
pub(super) fn choice_words(view: &View<'_>, choice: &MaterialChoice) -> String {
    match choice {
        MaterialChoice::Known(id, How::Chosen) => {
            let name = view.state.shelf().get(id).map_or(id.as_str(), |m| &m.name);
            name.to_owned()
        }
        MaterialChoice::Known(id, how) => {
            let name = view.state.shelf().get(id).map_or(id.as_str(), |m| &m.name);
            format!("{name} ({})", how.label())
        }
        MaterialChoice::New => "New material".to_owned(),
        MaterialChoice::Made(material) => material.name.to_string(),
        MaterialChoice::NewPure(inci) => {
            let name = inventory()
                .by_name(inci)
                .map(inventory::InventoryName::label_name);
            format!("New, pure {}", name.as_deref().unwrap_or(inci))
        }
    }
}

/// The rows that make no line, with the reasons.
fn left_out(ui: &mut Ui, left: &[LeftOutRow], origin: Option<&TableOrigin>) {
    if left.is_empty() {
        return;
    }
    egui::CollapsingHeader::new(format!("{} left out", counted(left.len(), "row")))
        .id_salt("left out")
        .show(ui, |ui| {
            for one in left.iter().take(MOST_LISTED) {
                let words = match origin {
                    Some(_) => {
                        let place = place_words(one.row, origin);
                        format!("{place} “{}”: {}", one.words, one.reason)
                    }
                    None => capital(&one.to_string()),
                };
                ui.add(egui::Label::new(theme::small(ui, words)).wrap());
            }
            let more = left.len().saturating_sub(MOST_LISTED);
            if more > 0 {
                let words = format!("and {more} more; the table says why beside each row");
                ui.label(theme::small(ui, words));
            }
        });
}
