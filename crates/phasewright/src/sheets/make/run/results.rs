//! What was measured, packed, filled and remarked.

use eframe::egui::{Grid, RichText, Ui};
use formulation::amount::typed::{self, AmountError};
use formulation::batch::record::{Event, Quality, WATER_MADE_UP, moment};
use formulation::finding::Level;
use formulation::label_info::Durability;
use formulation::mass::read_mass;
use formulation::specification::{Characteristic, Verdict};
use formulation::stock::LotId;

use super::{At, Form, RunPage, fields::qualities, stop};
use crate::sheets::make::{MOST_COUNTED, action, choice, entered, field};
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::widgets::read_out::read_out;

/// Draws it.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Measured, packed, filled"));
    if at.record.is_closed() {
        // What is looked at later is added; the rest takes only corrections below.
        measured(ui, at, page);
        packed(ui, at);
        labelled(ui, at);
        filled(ui, at);
        remark(ui, at, page);
        return;
    }
    measured(ui, at, page);
    if !at.record.opening().evaporation.is_zero() {
        water(ui, at, page);
    }
    packaging(ui, at, page);
    labels(ui, at, page);
    filling(ui, at, page);
    remark(ui, at, page);
}

fn measured(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    asked(ui, at);
    // What is asked for next is likely to be measured next.
    if page.what.is_none() && page.value.is_empty() {
        let all = at.record.opening().variant().must_measure();
        let mut missing = all
            .iter()
            .filter(|c| c.quality.is_measured() && at.record.found(c).is_none());
        if let Some(next) = missing.next() {
            page.what = Some(next.quality);
            page.what_name = name_of(next);
        }
    }
    ui.horizontal_wrapped(|ui| {
        let words =
            |q: Option<_>| q.map_or_else(|| "choose".to_owned(), |q: Quality| q.label().to_owned());
        choice(ui, "What", &mut page.what, &qualities(), words, 110.0);
        if page.what == Some(Quality::Other) {
            field(ui, "Name of it", &mut page.what_name, 140.0)
                .on_hover_text("As the specification calls it");
        }
        let fields = [
            field(ui, "Value, with its unit", &mut page.value, 120.0),
            field(
                ui,
                "Method, instrument, temperature",
                &mut page.method,
                200.0,
            ),
        ];
        if let (true, Some(value)) = (std::mem::take(&mut page.measure), fields.first()) {
            value.request_focus();
        }
        if action(ui, "Record the measurement").clicked() || entered(ui, &fields) {
            match page.what {
                Some(what)
                    if let Some(error) = what
                        .measure()
                        .and_then(|measure| typed::lacks_unit(&page.value, measure)) =>
                {
                    page.refuse(Form::Measurement, error.to_string());
                }
                Some(what) => {
                    let event = Event::Measured {
                        what,
                        name: match what {
                            Quality::Other => page.what_name.trim().into(),
                            _ => "".into(),
                        },
                        value: page.value.trim().into(),
                        remark: page.method.trim().into(),
                    };
                    page.send(at, Form::Measurement, event);
                }
                None => page.refuse(Form::Measurement, "Choose first what was measured"),
            }
        }
    });
    page.problem_ui(ui, &Form::Measurement);
}

/// The name under which something without a figure of its own is recorded; empty for others.
fn name_of(wanted: &Characteristic) -> String {
    match wanted.quality {
        Quality::Other => wanted.name().to_owned(),
        _ => String::new(),
    }
}

/// What the specification asks for, what was found, and what that is worth: a line for each from
/// the start, so that nothing moves when something is recorded.
fn asked(ui: &mut Ui, at: At<'_>) {
    let record = at.record;
    let mut told = Vec::new();
    let p = theme::palette(ui);
    Grid::new("asked for")
        .num_columns(4)
        .spacing([theme::GAP, 2.0])
        .show(ui, |ui| {
            for one in record.opening().variant().must_measure() {
                ui.label(theme::strong(one.name()));
                let words = match (one.words(), one.quality) {
                    (words, _) if !words.is_empty() => words,
                    (_, Quality::Appearance | Quality::Odour) => "to be judged".to_owned(),
                    _ => "to be measured".to_owned(),
                };
                ui.label(words);
                let measured = record.measured(&one);
                told.extend(measured.map(|m| m.entry));
                let found = record.found(&one);
                let (verdict, level) = match found.as_deref().map(|v| one.judge(v)) {
                    None if one.quality.is_measured() => ("not yet", None),
                    None => ("counted when it is filled", None),
                    Some(Verdict::Within) => ("within", None),
                    Some(Verdict::ByEye) => ("judged", None),
                    Some(Verdict::Outside(_)) => ("outside", Some(Level::Breach)),
                    Some(Verdict::Unread(_)) => ("not compared", Some(Level::Caution)),
                };
                let how = measured.map_or("", |m| m.remark.as_ref());
                let late = if measured.is_some_and(|m| m.late) {
                    "added after closing"
                } else {
                    ""
                };
                let words = [found.as_deref().unwrap_or_default(), how, late];
                let words: Vec<&str> = words.into_iter().filter(|w| !w.is_empty()).collect();
                ui.label(words.join(", "));
                match (level, found.is_some()) {
                    (Some(level), _) => {
                        ui.horizontal(|ui| {
                            level_mark(ui, level);
                            let words = RichText::new(verdict).color(p.level(level));
                            let told = ui.label(words);
                            // Told with what it is about.
                            let about = format!("{}: {verdict}", one.name());
                            ui.accesskit_node_builder(told.id, |node| node.set_value(about));
                            read_out(&told);
                        });
                    }
                    (None, true) => {
                        ui.label(verdict);
                    }
                    (None, false) => {
                        ui.label(theme::small(ui, verdict));
                    }
                }
                ui.end_row();
            }
        });
    let others = record.measurements().iter();
    for m in others.filter(|m| !m.struck && !told.contains(&m.entry)) {
        let mut words = format!("{}: {} {}", m.name(), m.value, m.remark);
        if m.late {
            words = format!(
                "{}, added after closing on {}",
                words.trim_end(),
                moment(&m.at)
            );
        }
        ui.colored_label(p.faint_ink, words);
    }
    ui.add_space(theme::TIGHT);
}

fn water(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let unit = at.record.opening().unit;
    ui.horizontal_wrapped(|ui| {
        let [mass, lot] = &mut page.made_up;
        let fields = [
            field(ui, WATER_MADE_UP, mass, 120.0),
            field(ui, "Lot of that water", lot, 90.0),
        ];
        let event = read_mass(mass, Some(unit)).map(|mass| Event::MadeUp {
            mass,
            lot: LotId::new(lot),
        });
        if action(ui, "Record the water").clicked() || entered(ui, &fields) {
            match event {
                Ok(event) => stop::record(at, page, Form::Water, event),
                Err(error) => page.refuse(Form::Water, error.to_string()),
            }
        }
    });
    page.problem_ui(ui, &Form::Water);
}

/// The packaging that was used.
fn packed(ui: &mut Ui, at: At<'_>) {
    for used in at.record.packaging() {
        ui.label(format!(
            "{} {}: {} used, {} spoilt",
            used.what, used.lot, used.used, used.spoilt
        ));
    }
}

/// Pieces as typed; nothing typed means that there are none.
fn pieces(text: &str) -> Result<u32, AmountError> {
    let read = typed::optional(text, |t| {
        typed::count(t, "a number of pieces", MOST_COUNTED)
    });
    Ok(read?.unwrap_or_default())
}

fn packaging(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    packed(ui, at);
    ui.horizontal_wrapped(|ui| {
        let [what, lot, used, spoilt] = &mut page.packaging;
        from_stock(ui, at, "From the stock", what, lot);
        let fields = [
            field(ui, "Packaging", what, 140.0),
            field(ui, "Its lot", lot, 90.0),
            field(ui, "Pieces used", used, 60.0),
            field(ui, "Pieces spoilt", spoilt, 60.0),
        ];
        let event = match (pieces(used), pieces(spoilt)) {
            (Ok(used), Ok(spoilt)) => Ok(Event::Packed {
                what: what.trim().into(),
                lot: lot.trim().into(),
                used,
                spoilt,
            }),
            (Err(why), _) => Err((2, why)),
            (_, Err(why)) => Err((3, why)),
        };
        if action(ui, "Record the packaging").clicked() || entered(ui, &fields) {
            match event {
                Ok(event) => stop::record(at, page, Form::Packaging, event),
                Err((place, why)) => {
                    fields[place].request_focus();
                    page.refuse(Form::Packaging, why.to_string());
                }
            }
        }
    });
    page.problem_ui(ui, &Form::Packaging);
}

/// What is typed of a run of labels.
#[derive(Default)]
pub struct LabelForm {
    what: String,
    lot: String,
    /// As proposed until it is typed over.
    code: Option<String>,
    date: Option<String>,
    printed: String,
    applied: String,
    spoilt: String,
}

/// The runs of labels that were recorded.
fn labelled(ui: &mut Ui, at: At<'_>) {
    for run in at.record.labels() {
        let dated = if run.date.is_empty() {
            String::new()
        } else {
            format!(", date {}", run.date)
        };
        ui.label(format!(
            "Labels “{}” {}: batch code {}{dated}; {} printed, {} on containers, {} destroyed",
            run.what, run.lot, run.code, run.printed, run.applied, run.spoilt
        ));
    }
}

/// A run of labels with batch code and date, counted and taken from the packaging.
fn labels(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    labelled(ui, at);
    let form = &mut page.labels;
    let mut record = false;
    ui.horizontal_wrapped(|ui| {
        from_stock(
            ui,
            at,
            "Labels from the stock",
            &mut form.what,
            &mut form.lot,
        );
        let which = field(ui, "Which label", &mut form.what, 120.0)
            .on_hover_text("For example: front, version 3; back");
        let lot = field(ui, "Printed on lot", &mut form.lot, 90.0);
        let code = form
            .code
            .get_or_insert_with(|| at.record.code().to_string());
        let code = field(ui, "Batch code on them", code, 90.0);
        let date = form.date.get_or_insert_with(|| proposed_date(at));
        let date = field(ui, "Date on them", date, 80.0)
            .on_hover_text("As it stands there; empty if none does");
        let fields = [
            which,
            lot,
            code,
            date,
            field(ui, "Labels printed", &mut form.printed, 60.0),
            field(ui, "On containers", &mut form.applied, 60.0),
            field(ui, "Spoilt and destroyed", &mut form.spoilt, 60.0),
        ];
        record = action(ui, "Record the labels").clicked() || entered(ui, &fields);
    });
    if record {
        match page.labels.read() {
            Ok(event) => stop::record(at, page, Form::Labels, event),
            Err(words) => page.refuse(Form::Labels, words),
        }
    }
    page.problem_ui(ui, &Form::Labels);
}

/// The date that the label of the formula asks for.
fn proposed_date(at: At<'_>) -> String {
    match &at.record.opening().variant().label.durability {
        Durability::BestBefore(day) => day.to_string(),
        Durability::Unstated | Durability::AfterOpening(_) | Durability::NotNeeded(_) => {
            String::new()
        }
    }
}

impl LabelForm {
    fn read(&self) -> Result<Event, String> {
        let number = |text: &str, what: &str| pieces(text).map_err(|why| format!("{what}: {why}"));
        let text = |t: &Option<String>| t.as_deref().unwrap_or_default().trim().into();
        Ok(Event::Labelled {
            what: self.what.trim().into(),
            lot: self.lot.trim().into(),
            code: text(&self.code),
            date: text(&self.date),
            printed: number(&self.printed, "Labels printed")?,
            applied: number(&self.applied, "On containers")?,
            spoilt: number(&self.spoilt, "Spoilt and destroyed")?,
        })
    }
}

/// A lot of packaging, chosen from the stock, into the fields of its name and lot.
fn from_stock(ui: &mut Ui, at: At<'_>, label: &str, what: &mut String, lot: &mut String) {
    let books = &at.view.state.books;
    let stock = &books.stock().packaging;
    if stock.is_empty() {
        return;
    }
    let mut chosen = None;
    let places: Vec<Option<usize>> = (0..stock.len()).map(Some).collect();
    choice(
        ui,
        label,
        &mut chosen,
        &places,
        |place: Option<usize>| {
            place.and_then(|n| stock.get(n)).map_or_else(
                || "choose".to_owned(),
                |one| format!("{}, {}: {} left", one.what, one.id, one.left(books.usage())),
            )
        },
        150.0,
    );
    if let Some(one) = chosen.and_then(|n: usize| stock.get(n)) {
        *what = one.what.to_string();
        *lot = one.id.to_string();
    }
}

fn filling(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let unit = at.record.opening().unit;
    let mass = |what: &str, text: &str| match text.trim() {
        "" => Err(format!("{what} is missing; type 0 if there is none")),
        text => read_mass(text, Some(unit)).map_err(|e| format!("{what}: {e}")),
    };
    ui.horizontal_wrapped(|ui| {
        let [containers, filled, samples, waste] = &mut page.filled;
        let [net, kept, lost] = ["Filled in all, net", "Retained and tested", "Waste"];
        let fields = [
            field(ui, "Containers filled", containers, 60.0),
            field(ui, net, filled, 90.0),
            field(ui, kept, samples, 90.0),
            field(ui, lost, waste, 90.0),
        ];
        let number = typed::count(containers, "a number of containers", MOST_COUNTED);
        let masses = (mass(net, filled), mass(kept, samples), mass(lost, waste));
        let event = match (number, masses.0, masses.1, masses.2) {
            (Ok(containers), Ok(mass), Ok(samples), Ok(waste)) => Ok(Event::Filled {
                containers,
                mass,
                samples,
                waste,
            }),
            (Err(e), ..) => Err((0, e.to_string())),
            (_, Err(e), ..) => Err((1, e)),
            (_, _, Err(e), _) => Err((2, e)),
            (.., Err(e)) => Err((3, e)),
        };
        if action(ui, "Record the filling").clicked() || entered(ui, &fields) {
            match event {
                Ok(event) => page.send(at, Form::Filling, event),
                Err((place, words)) => {
                    // What is wrong is typed next.
                    fields[place].request_focus();
                    page.refuse(Form::Filling, words);
                }
            }
        }
    });
    page.problem_ui(ui, &Form::Filling);
    filled(ui, at);
}

/// What became of what was weighed.
fn filled(ui: &mut Ui, at: At<'_>) {
    if let Some(sum) = at.record.reconciliation() {
        let show = |mass| at.record.mass_words(None, mass);
        ui.label(format!(
            "Yield {:.1} %: weighed {}, filled {}, samples {}, waste {}, not accounted for {}",
            sum.yield_share.as_percent(),
            show(sum.weighed),
            show(sum.filled),
            show(sum.samples),
            show(sum.waste),
            show(sum.unaccounted)
        ));
    }
}

fn remark(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let closed = at.record.is_closed();
    ui.horizontal_wrapped(|ui| {
        let fields = [field(ui, "Remark", &mut page.remark, 320.0)];
        if action(ui, "Record the remark").clicked() || entered(ui, &fields) {
            let event = Event::Remarked {
                text: page.remark.trim().into(),
                open: if closed {
                    page.remark_later
                } else {
                    !page.by_the_way
                },
            };
            page.send(at, Form::Remark, event);
        }
    });
    let told = "It is a point of the release until somebody accepts it";
    if closed {
        // What is remarked later, such as how the retained sample looks, is mostly nothing
        // that the release hangs on.
        ui.checkbox(
            &mut page.remark_later,
            "The remark is a point of the release",
        )
        .on_hover_text(told);
    } else {
        let mut open = !page.by_the_way;
        ui.checkbox(
            &mut open,
            "The remark is to be looked at before the release",
        )
        .on_hover_text(told);
        page.by_the_way = !open;
    }
    page.problem_ui(ui, &Form::Remark);
    if closed {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let [what, reason] = &mut page.deviation;
        let fields = [
            field(ui, "Deviation", what, 240.0),
            field(ui, "Why it was done so", reason, 200.0),
        ];
        let event = Event::Deviated {
            lot: None,
            what: what.trim().into(),
            reason: reason.trim().into(),
        };
        let pressed = action(ui, "Record the deviation")
            .on_hover_text("It stays an open point until somebody accepts it");
        if pressed.clicked() || entered(ui, &fields) {
            page.send(at, Form::Deviation, event);
        }
    });
    page.problem_ui(ui, &Form::Deviation);
}
