//! What the trials of a formula say.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write;
use std::path::Path;

use formulation::file::{disk, trial_file};
use formulation::formula::Formula;
use formulation::trial::book::{Book, RecordedReading, value_words};
use formulation::trial::challenge;
use formulation::trial::charts::{Chart, charts};
use formulation::trial::learn::{Expected, Learnt, Lessons};
use formulation::trial::stability::{
    DueSample, State, Together, judged, samples, together, trends,
};
use serde_json::{Value, json};

use crate::headless::{Outcome, said, today};

use super::with_book;

/// Everything that trials say, gathered once for text and JSON.
struct Said<'a> {
    formula: &'a Formula,
    path: &'a Path,
    book: &'a Book,
    due: Vec<DueSample>,
    learnt: Vec<(&'a Learnt, String, Expected)>,
    curves: Vec<Chart>,
    several: Vec<Together>,
    /// Trial and words.
    challenges: Vec<(usize, String)>,
}

pub(super) fn show(file: &str, as_json: bool, out: &mut dyn Write) -> Outcome {
    let (opened, book, path) = with_book(file)?;
    let lessons = Lessons::of(&book);
    let due = samples(&book, today()).into_iter();
    let told = Said {
        formula: &opened.formula,
        path: &path,
        book: &book,
        due: due
            .filter(|d| matches!(d.state, State::Due | State::Overdue))
            .collect(),
        learnt: lessons
            .all()
            .map(|l| {
                let e = l.at(&l.from.place(&opened.variant));
                (l, l.words(&e), e)
            })
            .collect(),
        curves: charts(&book),
        several: together(&book),
        challenges: (book.trials.iter())
            .filter_map(|t| {
                let words = challenge::words(&challenge::reductions(&book, t.number))?;
                Some((t.number, words))
            })
            .collect(),
    };
    if as_json {
        let text = serde_json::to_string_pretty(&as_value(&told))?;
        said::print_json(out, text)?;
    } else {
        write_text(out, &told)?;
    }
    Ok(0)
}

fn as_value(said: &Said<'_>) -> Value {
    json!({
        "formula": said.formula.name.as_ref(),
        "file": said.path.display().to_string(),
        "trials": said.book.trials.iter().map(|t| json!({
            "number": t.number, "date": t.opening.date.to_string(),
            "purpose": t.opening.purpose, "grams": t.opening.mass.as_grams(), "by": t.by,
            "steps": (0..=t.additions.len()).map(|s| json!({
                "step": s, "added": t.step_words(s),
                "readings": said.book.readings.iter()
                    .filter(|k| k.trial == t.number && k.step == s)
                    .map(|k| json!({
                        "number": k.number, "quantity": k.reading.quantity.key(),
                        "value": k.reading.mean(), "words": value_words(&k.reading),
                        "celsius": k.reading.celsius, "hours": k.reading.hours,
                        "read": k.reading.read_words(), "method": k.reading.method.words(),
                        "remark": k.reading.remark, "photo": k.reading.photo,
                        "sample": k.reading.sample.and_then(|s| said.book.sample_words(s)),
                        "noted_at": k.noted.0, "noted_by": k.noted.1,
                        "corrected": k.before.len(), "set_aside": k.set_aside,
                    })).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
        "fits": said.curves.iter().map(|c| json!({
            "trial": c.trial, "title": c.title, "model": c.model, "x": c.x,
            "quantity": c.quantity.key(),
            "points": c.dots.iter().map(|d| [d.x, d.y]).collect::<Vec<_>>(),
            "optimum": c.optimum.map(|o| o.0), "optimum95": c.optimum.map(|o| o.1),
            "words": c.words,
        })).collect::<Vec<_>>(),
        "challenge": said.challenges.iter()
            .map(|(trial, words)| json!({"trial": trial, "words": words})).collect::<Vec<_>>(),
        "learnt": said.learnt.iter().map(|(l, words, e)| json!({
            "quantity": l.from.quantity.key(), "readings": l.from.y.len(),
            "way": l.way(), "apart": l.from.apart.all(), "why_apart": l.from.apart.words(),
            "model": l.chosen.term,
            "errors": l.errors.iter().map(|(by, error)| (by.term, *error)).collect::<BTreeMap<_, _>>(),
            "value": e.value, "range": e.range, "inside": e.inside, "words": words,
        })).collect::<Vec<_>>(),
        "stability_judged": (0..said.book.plans.len()).flat_map(|p| judged(said.book, p)).collect::<Vec<_>>(),
        "stability_together": said.several.iter().map(|t| json!({
            "condition": t.condition, "quantity": t.quantity.key(), "plans": t.plans,
            "slopes_p": t.batches.slopes.1, "heights_p": t.batches.intercepts.1,
            "words": t.words(),
        })).collect::<Vec<_>>(),
        "due": said.due.iter().map(|d| json!({
            "condition": d.condition, "time": d.time, "day": d.day.to_string(),
            "state": d.state.label(),
        })).collect::<Vec<_>>(),
        "stability": (0..said.book.plans.len()).flat_map(|p| trends(said.book, p)).map(|t| json!({
            "condition": t.condition, "quantity": t.quantity.key(), "way": t.way.words(),
            "points": t.points, "words": t.words(),
        })).collect::<Vec<_>>(),
    })
}

fn write_text(out: &mut dyn Write, said: &Said<'_>) -> std::io::Result<()> {
    if said.book.trials.is_empty() {
        writeln!(
            out,
            "No trials of {} yet ({}).",
            said.formula.name,
            said.path.display()
        )?;
        return Ok(());
    }
    for t in &said.book.trials {
        writeln!(
            out,
            "Trial {} of {}: {} ({:.1} g, {})",
            t.number,
            t.opening.date,
            t.opening.purpose,
            t.opening.mass.as_grams(),
            t.by
        )?;
        for s in 0..=t.additions.len() {
            let readings: Vec<String> = said
                .book
                .readings
                .iter()
                .filter(|k| k.trial == t.number && k.step == s && k.reading.sample.is_none())
                .map(|k| reading_words(said.book, k, said.path))
                .collect();
            writeln!(out, "  {}: {}", t.step_words(s), readings.join("; "))?;
        }
    }
    for chart in said.curves.iter().filter(|c| c.model != Some("drift")) {
        writeln!(out, "{}: {}", chart.title, chart.words.join(" "))?;
    }
    for (trial, words) in &said.challenges {
        writeln!(out, "Trial {trial}: {words}.")?;
    }
    for (l, words, _) in &said.learnt {
        writeln!(out, "{}: {words}", l.from.quantity.label())?;
    }
    for p in 0..said.book.plans.len() {
        for t in trends(said.book, p) {
            writeln!(out, "{} at {}: {}", t.title(), t.condition, t.words())?;
        }
    }
    for p in 0..said.book.plans.len() {
        for words in judged(said.book, p) {
            writeln!(out, "{words}")?;
        }
    }
    for several in &said.several {
        writeln!(out, "{}", several.words())?;
    }
    for d in &said.due {
        writeln!(
            out,
            "{}: sample {}, {} ({})",
            d.state.label(),
            d.condition,
            d.time,
            d.day
        )?;
    }
    Ok(())
}

/// A reading with its method; a photo that is not where it was is said.
fn reading_words(book: &Book, kept: &RecordedReading, trials: &Path) -> String {
    let reading = &kept.reading;
    let mut words = format!("{} {}", reading.quantity.label(), value_words(reading));
    if let Some((difference, start)) = book.colour_change(kept) {
        let _ = write!(words, ", ΔE {difference:.2} to reading {start}");
    }
    let how = [
        reading.read_words().unwrap_or_default(),
        reading.how(),
        reading.remark.clone(),
    ];
    let how: Vec<String> = how.into_iter().filter(|part| !part.is_empty()).collect();
    if !how.is_empty() {
        let _ = write!(words, " ({})", how.join("; "));
    }
    if let Some(why) = &kept.set_aside {
        let _ = write!(words, " (set aside: {why})");
    }
    if let Some(photo) = &reading.photo
        && !disk::is_there(&trial_file::photo_path(trials, photo))
    {
        let _ = write!(words, " (the photo is not there any more: {photo})");
    }
    words
}
