//! Answers of aim as JSON and as plain text: proposals, collisions, ranges of a list,
//! swaps and sweeps.

use std::fmt::Write as _;

use serde::Serialize;
use serde_json::{Value, json};

use crate::amount::measure::signed;
use crate::finding::Level;
use crate::harmless;
use crate::notation::writer;
use crate::progress::Progress;
use crate::solve::aim::{Aim, Answer, Collision, Proposal, Reached};
use crate::solve::demand::DemandOrigin;
use crate::solve::ingredient_list::{Deduction, ListError, PossibleMaterial, ProposedMaterial};
use crate::solve::swap::{Suggestion, Swapped};
use crate::solve::sweep::{Sweep, SweepPoint};

/// Version of the JSON schema; raised when a field changes its meaning or goes.
pub const SCHEMA: u32 = 1;

/// Said with every list.
pub const LIST_NOTICE: &str = "Ranges and an estimate of compositions that fit the list and the facts given; many do. This is not the formula of any product.";
/// Said with every proposal.
pub const AIM_NOTICE: &str = "A proposal by arithmetic on the data of the raw materials; the checks named were made, no others. It is not a safety assessment: local law and a qualified safety assessor decide.";

fn pretty(value: &impl Serialize) -> String {
    writer::json(value).unwrap_or_else(|error| format!("{{\"error\": \"{error}\"}}"))
}

/// An answer as JSON.
pub fn answer_json(aim: &Aim, answer: &Answer) -> String {
    let body = match answer {
        Answer::Proposal(proposal) => json!({ "proposal": proposal_value(proposal) }),
        Answer::Collision(collision) => json!({ "collision": collision_value(collision) }),
    };
    let status = match answer {
        Answer::Proposal(p) if p.all_hold() => "reached",
        Answer::Proposal(_) => "gave-way",
        Answer::Collision(_) => "collision",
    };
    let mut value = json!({
        "schema": SCHEMA,
        "status": status,
        "targets": aim.targets.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "prefer": aim.prefer.word(),
        "step_percent": aim.step.as_percent(),
        "notice": AIM_NOTICE,
    });
    merge(&mut value, body);
    pretty(&value)
}

fn merge(value: &mut Value, more: Value) {
    if let (Value::Object(value), Value::Object(more)) = (value, more) {
        value.extend(more);
    }
}

fn reached_value(r: &Reached) -> Value {
    json!({
        "words": r.words,
        "before": r.before,
        "after": r.after,
        "holds": r.gave_way.is_none() && r.after.is_some(),
        "gave_way_by": r.gave_way,
        "may_be": r.range.map(|(low, high)| [low, high]),
        "surely": r.gave_way.is_none() && r.after.is_some() && r.sure,
        "rests_on": r.basis,
    })
}

fn proposal_value(p: &Proposal) -> Value {
    let lines: Vec<Value> = p
        .lines
        .iter()
        .map(|l| {
            json!({
                "id": l.line.0,
                "material": l.name,
                "before": l.before.as_percent(),
                "after": l.after.as_percent(),
                "change": (l.after - l.before).as_percent(),
                "added": l.added,
            })
        })
        .collect();
    let limits: Vec<Value> = p
        .limits
        .iter()
        .map(|l| {
            json!({
                "rule": *l.key.rule,
                "words": l.words,
                "off": l.off,
                "exceeded": l.exceeded,
            })
        })
        .collect();
    let gave_way: Vec<Value> = p
        .gave_way
        .iter()
        .map(|(words, by)| json!({ "words": words, "by": by }))
        .collect();
    let breaches: Vec<&str> = p
        .evaluation
        .findings
        .iter()
        .filter(|f| f.level == Level::Breach)
        .map(|f| f.message.as_str())
        .collect();
    let arisen: Vec<Value> = p
        .arisen
        .iter()
        .map(|f| json!({ "level": f.level.label(), "rule": *f.rule, "message": f.message }))
        .collect();
    json!({
        "total_percent": p.variant.total().as_percent(),
        "lines": lines,
        "targets": p.targets.iter().map(reached_value).collect::<Vec<_>>(),
        "gave_way": gave_way,
        "limits": limits,
        "breaches": breaches,
        "arisen": arisen,
        "notes": p.notes,
    })
}

fn origin_word(origin: &DemandOrigin) -> &'static str {
    match origin {
        DemandOrigin::Target(_) => "target",
        DemandOrigin::Held(_) => "held",
        DemandOrigin::OwnLeast(_) | DemandOrigin::OwnMost(_) => "own-bound",
        DemandOrigin::Limit(_) => "limit",
        DemandOrigin::Stock(_) => "stock",
        DemandOrigin::Dose(_) => "dose",
        DemandOrigin::Tried(_) => "tried",
    }
}

fn collision_value(c: &Collision) -> Value {
    let demands: Vec<Value> = c
        .clashes
        .iter()
        .map(|clash| {
            json!({
                "kind": origin_word(&clash.origin),
                "words": clash.words,
                "can_reach": clash.reach,
                "sentence": clash.sentence,
                "nearest": clash.nearest.as_ref().map(|p| proposal_value(p)),
            })
        })
        .collect();
    json!({
        "sentence": c.sentence(),
        "smallest": c.smallest,
        "demands": demands,
    })
}

/// An answer as plain text.
pub fn answer_text(aim: &Aim, answer: &Answer) -> String {
    let mut out = String::new();
    match answer {
        Answer::Proposal(proposal) => {
            let _ = writeln!(
                out,
                "Proposal, {}, steps of {} %",
                aim.prefer.label(),
                aim.step
            );
            out += &proposal_text(proposal);
        }
        Answer::Collision(collision) => {
            let _ = writeln!(out, "{}\n\n{}", collision.verdict(), collision.heading());
            for clash in &collision.clashes {
                let _ = writeln!(out, "- {}", clash.words);
            }
            for clash in &collision.clashes {
                let _ = writeln!(out, "\n{}", clash.nearest_heading());
                match &clash.nearest {
                    Some(proposal) => out += &proposal_text(proposal),
                    None => out += "  other demands would still collide\n",
                }
            }
        }
    }
    let _ = writeln!(out, "\n{AIM_NOTICE}");
    out
}

fn proposal_text(p: &Proposal) -> String {
    let mut out = String::new();
    let digits = p.digits();
    let width = p
        .lines
        .iter()
        .map(|l| l.name.chars().count())
        .max()
        .unwrap_or(0)
        .max(8);
    let _ = writeln!(
        out,
        "  {:<width$} {:>10} {:>10} {:>10}",
        "line", "present", "proposed", "change"
    );
    for line in &p.lines {
        let change = line.after - line.before;
        let _ = writeln!(
            out,
            "  {:<width$} {:>10} {:>10} {:>10}",
            line.name,
            format!("{:.digits$}", line.before),
            format!("{:.digits$}", line.after),
            signed(change.as_percent(), digits),
        );
    }
    let _ = writeln!(
        out,
        "  {:<width$} {:>10} {:>10}",
        "total",
        "",
        p.variant.total().to_string()
    );
    for target in &p.targets {
        let figure = |value: Option<f64>| {
            value.map_or_else(|| "not known".to_owned(), |v| target.figure.write(v))
        };
        let _ = write!(
            out,
            "  {}: {} now, {} proposed",
            target.words,
            figure(target.before),
            figure(target.after)
        );
        for remark in target.remarks() {
            let _ = write!(out, "; {remark}");
        }
        out.push('\n');
    }
    for (words, by) in &p.gave_way {
        let _ = writeln!(out, "  gave way by {by:.4}: {words}");
    }
    for limit in p.limits.iter().filter(|l| l.off) {
        let _ = writeln!(
            out,
            "  switched off: {}{}",
            limit.words,
            if limit.exceeded { ", and exceeded" } else { "" }
        );
    }
    for finding in p
        .evaluation
        .findings
        .iter()
        .filter(|f| f.level == Level::Breach)
    {
        let _ = writeln!(out, "  Breach: {}", finding.message);
    }
    for finding in p.arisen.iter().filter(|f| f.level == Level::Caution) {
        let _ = writeln!(out, "  New caution: {}", finding.message);
    }
    for note in &p.notes {
        let _ = writeln!(out, "  Note: {note}");
    }
    out
}

/// Everything worked back from a list.
#[derive(Debug)]
pub struct ListAnswer<'a> {
    /// Ranges and estimate.
    pub deduction: &'a Deduction,
    /// Which fact would narrow most.
    pub narrowing: Vec<(String, f64)>,
    /// Materials of the shelf that fit.
    pub materials: Vec<PossibleMaterial>,
    /// Raw materials that come close to the estimate.
    pub proposed: Vec<ProposedMaterial>,
}

impl<'a> ListAnswer<'a> {
    /// Works out everything that a list gives with a shelf.
    pub fn of(deduction: &'a Deduction, shelf: &crate::shelf::Shelf) -> Result<Self, ListError> {
        Ok(Self {
            deduction,
            narrowing: deduction.narrowing(&Progress::default())?,
            materials: deduction.materials(shelf),
            proposed: deduction.proposal(shelf),
        })
    }

    /// As JSON: low, high and centre of each ingredient, then what follows.
    pub fn json(&self) -> String {
        let d = self.deduction;
        let ingredients: Vec<Value> = d
            .list
            .names
            .iter()
            .enumerate()
            .map(|(i, name)| {
                let materials: Vec<&str> = self
                    .materials
                    .iter()
                    .filter(|m| m.brings.contains(&i))
                    .map(|m| &*m.material.name)
                    .collect();
                json!({
                    "text": *name.text,
                    "inci": name.inci.spelling(),
                    "recognised": name.known,
                    "class": name.class.label(),
                    "low": d.ranges.low[i],
                    "high": d.ranges.high[i],
                    "centre": d.centre.percent[i],
                    "materials": materials,
                })
            })
            .collect();
        let blends: Vec<Value> = self
            .materials
            .iter()
            .filter(|m| m.blend)
            .map(|m| {
                let brings: Vec<&str> = m
                    .brings
                    .iter()
                    .filter_map(|&i| d.list.names.get(i))
                    .map(|n| n.inci.spelling())
                    .collect();
                json!({ "material": *m.material.name, "brings": brings, "most": m.most })
            })
            .collect();
        let limits: Vec<Value> = d
            .limits
            .iter()
            .filter_map(|l| {
                let name = d.list.names.get(l.ingredient)?;
                Some(json!({ "inci": name.inci.spelling(), "most": l.most, "ground": l.ground }))
            })
            .collect();
        let narrowing: Vec<Value> = self
            .narrowing
            .iter()
            .map(|(fact, gain)| json!({ "fact": fact, "narrows_by": gain }))
            .collect();
        let proposed: Vec<Value> = self
            .proposed
            .iter()
            .map(|p| {
                json!({
                    "material": *p.material.name,
                    "percent": p.percent,
                    "on_shelf": p.on_shelf,
                })
            })
            .collect();
        pretty(&json!({
            "schema": SCHEMA,
            "notice": LIST_NOTICE,
            "ingredients": ingredients,
            "one_per_cent_line": {
                "possible": d.ranges.lines,
                "assumed_for_centre": d.centre.line,
            },
            "limits": limits,
            "blends": blends,
            "narrowing": narrowing,
            "proposed_materials": proposed,
            "notes": d.notes,
        }))
    }

    /// As plain text.
    pub fn text(&self) -> String {
        let d = self.deduction;
        let names = &d.list.names;
        let width = names
            .iter()
            .map(|n| n.inci.spelling().chars().count())
            .max()
            .unwrap_or(0)
            .max(10);
        let mut out = format!("{LIST_NOTICE}\n\n");
        let _ = writeln!(
            out,
            "{:<width$} {:>9} {:>9} {:>9}",
            "ingredient", "low", "high", "centre"
        );
        for (i, name) in names.iter().enumerate() {
            let _ = writeln!(
                out,
                "{:<width$} {:>9.3} {:>9.3} {:>9.3}",
                name.inci, d.ranges.low[i], d.ranges.high[i], d.centre.percent[i]
            );
        }
        let line = |k: usize| {
            k.checked_sub(1)
                .and_then(|k| names.get(k))
                .map_or("the beginning", |n| n.inci.spelling())
        };
        match d.ranges.lines.as_slice() {
            [k] => {
                let _ = writeln!(out, "\nThe one-per-cent line stands after {}.", line(*k));
            }
            lines => {
                let (first, last) = (lines.first(), lines.last());
                if let (Some(first), Some(last)) = (first, last) {
                    let _ = writeln!(
                        out,
                        "\nThe one-per-cent line may stand after {} to after {}; the centre assumes after {}.",
                        line(*first),
                        line(*last),
                        line(d.centre.line)
                    );
                }
            }
        }
        let blends: Vec<&PossibleMaterial> = self.materials.iter().filter(|m| m.blend).collect();
        if !blends.is_empty() {
            out += "\nBlends of the shelf that fit the list\n";
            for m in blends {
                let _ = writeln!(out, "- {} (at most {:.2} %)", m.material.name, m.most);
            }
        }
        if !self.proposed.is_empty() {
            out += "\nRaw materials that come close to the centre\n";
            for p in &self.proposed {
                let shelf = if p.on_shelf {
                    ""
                } else {
                    " (not on the shelf)"
                };
                let _ = writeln!(out, "- {:.3} % {}{shelf}", p.percent, p.material.name);
            }
        }
        if !self.narrowing.is_empty() {
            out += "\nWhat would narrow the ranges most\n";
            for (fact, gain) in self.narrowing.iter().take(5) {
                let _ = writeln!(out, "- {fact}: by {:.0} %", 100.0 * gain);
            }
        }
        for note in &d.notes {
            let _ = writeln!(out, "Note: {note}");
        }
        out
    }
}

/// A swap as JSON.
pub fn swap_json(swapped: &Swapped) -> String {
    let parts: Vec<Value> = swapped
        .parts
        .iter()
        .map(|(m, p)| json!({ "material": *m.name, "percent": p.as_percent() }))
        .collect();
    let lines: Vec<Value> = swapped
        .variant
        .lines()
        .map(|(_, l)| {
            let name = swapped
                .formula
                .material(&l.material)
                .map(|m| m.name.to_string());
            json!({ "id": l.id.0, "material": name, "percent": l.percent.as_percent() })
        })
        .collect();
    let shifts: Vec<Value> = swapped
        .shifts
        .iter()
        .map(|s| json!({ "what": s.name, "before": s.before, "after": s.after }))
        .collect();
    pretty(&json!({
        "schema": SCHEMA,
        "total_percent": swapped.variant.total().as_percent(),
        "replacement": parts,
        "lines": lines,
        "shifts": shifts,
        "notes": swapped.notes,
        "notice": AIM_NOTICE,
    }))
}

/// A swap as plain text.
pub fn swap_text(swapped: &Swapped) -> String {
    let mut out = String::new();
    for (material, percent) in &swapped.parts {
        let _ = writeln!(out, "{percent} % {}", material.name);
    }
    for shift in &swapped.shifts {
        let figure = |v: Option<f64>| v.map_or("not known".to_owned(), |v| shift.figure.write(v));
        let _ = writeln!(
            out,
            "  {}: {} before, {} after",
            shift.name,
            figure(shift.before),
            figure(shift.after)
        );
    }
    for note in &swapped.notes {
        let _ = writeln!(out, "  Note: {note}");
    }
    let _ = writeln!(out, "\n{AIM_NOTICE}");
    out
}

/// Suggestions for a line as JSON.
pub fn suggestions_json(suggestions: &[Suggestion]) -> String {
    let rows: Vec<Value> = suggestions
        .iter()
        .map(|s| {
            json!({
                "material": *s.material.name,
                "percent": s.percent.as_percent(),
                "closeness": s.closeness,
                "differences": s.differences,
                "likenesses": s.likenesses.iter().map(|(what, like)| json!({
                    "what": what.label(),
                    "weight": what.weight(),
                    "like": like,
                })).collect::<Vec<_>>(),
                "cost_change_per_kg": s.cost_change,
            })
        })
        .collect();
    pretty(&json!({ "schema": SCHEMA, "suggestions": rows }))
}

/// Suggestions for a line as plain text.
pub fn suggestions_text(suggestions: &[Suggestion]) -> String {
    let mut out = String::new();
    for s in suggestions {
        let _ = write!(
            out,
            "{:.0} %  {} at {:.2} %",
            100.0 * s.closeness,
            s.material.name,
            s.percent
        );
        if let Some(change) = s.cost_change {
            let _ = write!(out, ", {} per kg", signed(change, 2));
        }
        out.push('\n');
        let _ = writeln!(out, "      {}", s.reasons());
        for difference in &s.differences {
            let _ = writeln!(out, "      {difference}");
        }
    }
    if out.is_empty() {
        out += "Nothing on the shelf is close to this line.\n";
    }
    out
}

/// A sweep as JSON: the lines moved, what is followed, and the points in order, the first
/// line moving fastest. What is not known is null.
pub fn sweep_json(sweep: &Sweep, names: &[String], points: &[SweepPoint]) -> String {
    let axes: Vec<Value> = sweep
        .axes
        .iter()
        .zip(names)
        .map(|(axis, name)| {
            json!({
                "id": axis.line.0,
                "material": name,
                "from": axis.from.as_percent(),
                "to": axis.to.as_percent(),
                "points": axis.points,
            })
        })
        .collect();
    let quantities: Vec<String> = sweep.quantities.iter().map(ToString::to_string).collect();
    let points: Vec<Value> = points
        .iter()
        .map(|point| {
            let findings = (!point.out_of_reach).then_some(point.findings);
            let [breaches, cautions, notes] = [0, 1, 2].map(|k| findings.map(|f| f[k]));
            json!({
                "at": point.at.iter().map(|p| p.as_percent()).collect::<Vec<_>>(),
                "values": point.values,
                "may_be": point.ranges.iter().map(|r| r.map(|(low, high)| [low, high])).collect::<Vec<_>>(),
                "breaches": breaches,
                "cautions": cautions,
                "notes": notes,
                "room_percent": point.room,
                "out_of_reach": point.out_of_reach,
            })
        })
        .collect();
    pretty(&json!({
        "schema": SCHEMA,
        "lines": axes,
        "quantities": quantities,
        "points": points,
    }))
}

/// A sweep as a CSV table: the percentages moved, the quantities, the counts of
/// findings, the least room to a limit. Cells that are not known are empty.
pub fn sweep_csv(
    sweep: &Sweep,
    names: &[String],
    points: &[SweepPoint],
) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut head: Vec<String> = names.iter().map(|n| format!("{n} (% w/w)")).collect();
    head.extend(sweep.quantities.iter().map(ToString::to_string));
    head.extend(
        [
            "breaches",
            "cautions",
            "notes",
            "room_percent",
            "out_of_reach",
        ]
        .map(String::from),
    );
    writer.write_record(&head)?;
    for point in points {
        let mut row: Vec<String> = point.at.iter().map(ToString::to_string).collect();
        let number = |v: Option<f64>| v.map_or_else(String::new, |v| format!("{v:.6}"));
        row.extend(point.values.iter().map(|v| number(*v)));
        if point.out_of_reach {
            row.extend(std::iter::repeat_n(String::new(), 3));
        } else {
            row.extend(point.findings.iter().map(ToString::to_string));
        }
        row.push(number(point.room));
        row.push(point.out_of_reach.to_string());
        writer.write_record(&row)?;
    }
    harmless::csv(writer)
}
