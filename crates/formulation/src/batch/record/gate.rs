//! The release gate: what of a batch is not as it should be, and whether it was accepted.

use super::lots::{MADE_UP, lot_not_noted};
use super::point::{Identity, Point};
use super::{LineState, LineStatus, Measurement, Opening, Quality, Reconciliation, Record, moment};
use crate::amount::typed;
use crate::batch::scale::{is_without_water, without_water_words};
use crate::composition::compose;
use crate::evaluation::Evaluation;
use crate::finding::{Finding, Level};
use crate::formula::ItemId;
use crate::label_info::Durability;
use crate::mass::ExactMass;
use crate::plain_words::words_of;
use crate::quantity::ph_hundredths;
use crate::rules::practice::{common_ph_window, id};
use crate::specification::{self, Characteristic, Verdict};
use crate::stock::packaging::is_label;

/// The kind of the point that tells where the pH measured is outside of what all materials bear.
const PH_OF_MATERIALS: &str = "pH of the materials";

/// Share of what was weighed, %, above which it must be told what became of it; common practice,
/// no source.
const UNACCOUNTED_PERCENT: f64 = 5.0;

/// The points of a record together with the breaches and cautions found in the mix as it was
/// really weighed, each with who accepted it.
pub fn gate(record: &Record, as_weighed: Option<&Evaluation>) -> Vec<Point> {
    let mut points = record.points();
    let underfilled = record.underfilled(as_weighed.map(|e| &e.estimates.density));
    points.extend(underfilled.map(|p| record.with_acceptance(p)));
    let found = as_weighed.into_iter().flat_map(|e| &e.findings);
    // What was measured on this batch has points of its own.
    let found = found.filter(|f| f.counts() && &*f.rule != specification::RULE);
    let found: Vec<&Finding> = found.collect();
    // What names the material says more than the range in which all of them lie.
    if found.iter().any(|f| id::OF_PH.contains(&&*f.rule)) {
        points.retain(|p| !p.identity.is_of_kind(PH_OF_MATERIALS));
    }
    for finding in found {
        // A breach that was known at the start is what makes it a trial.
        if finding.level == Level::Breach && record.not_for_sale() {
            continue;
        }
        let level = finding.level.label().to_lowercase();
        let words = format!("as weighed, {level}: {}", finding.message);
        let identity = Identity::new("finding").with(finding.identity());
        points.push(record.with_acceptance(Point::open(identity, words)));
    }
    points
}

/// Whether a measurement is of a characteristic. One without a figure of its own is told by its
/// name, whole; in records of earlier programs, which kept no name, by the name with which its
/// remark begins, the longest of those that are asked for.
fn is_of(measured: &Measurement, wanted: &Characteristic, all: &[Characteristic]) -> bool {
    if measured.what != wanted.quality {
        return false;
    }
    if measured.what != Quality::Other {
        return true;
    }
    let name = words_of(wanted.name());
    if name.is_empty() {
        // Named by signs alone.
        return measured.name.trim() == wanted.name().trim();
    }
    if !measured.name.is_empty() {
        return words_of(&measured.name) == name;
    }
    let remark = words_of(&measured.remark);
    let others = all.iter().filter(|c| c.quality == Quality::Other);
    let longer = others
        .map(|c| words_of(c.name()))
        .any(|other| other.len() > name.len() && remark.starts_with(&other));
    remark.starts_with(&name) && !longer
}

impl Record {
    /// What of a complete record is not as it should be and nobody has accepted, in words.
    pub fn open_points(&self) -> Vec<String> {
        let open = self.points().into_iter().filter(|p| p.accepted.is_none());
        open.map(|p| p.words).collect()
    }

    /// Everything that is not as it should be, in working order, and who accepted it.
    pub fn points(&self) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        for point in self.irregularities() {
            if points.iter().all(|p| p.identity != point.identity) {
                points.push(self.with_acceptance(point));
            }
        }
        points
    }

    /// A point with who accepted it last.
    fn with_acceptance(&self, point: Point) -> Point {
        let accepted = self.state.accepted.iter().rev().find(|a| a.is_of(&point));
        Point {
            accepted: accepted.map(|a| a.who.clone()),
            ..point
        }
    }

    /// That something of a line was weighed of which no lot was noted.
    fn without_lot(&self, line: ItemId) -> Option<Point> {
        let name = self.opening.name_of(line);
        // Where it was stopped and taken all the same, that is a point of its own.
        if self.excepted(None, &lot_not_noted(&name)) {
            return None;
        }
        let lacking: Vec<String> = self
            .standing_portions()
            .filter(|p| p.line == Some(line) && p.lot.is_none())
            .map(|p| p.entry.to_string())
            .collect();
        (!lacking.is_empty()).then(|| Point {
            without_lot: true,
            ..Point::open(
                Identity::new("no lot").with(lacking.join(" ")),
                format!("{name} has no lot"),
            )
        })
    }

    /// Whether it was begun as a trial that is not for sale.
    pub fn not_for_sale(&self) -> bool {
        !self.opening.trial.is_empty()
    }

    /// What every look at a trial that is not for sale says first.
    pub fn trial_words(&self) -> Option<String> {
        let why = &self.opening.trial;
        self.not_for_sale()
            .then(|| format!("Trial batch, not for sale: {why}"))
    }

    /// Who checked the weighing of a line as it stands now.
    pub fn line_checked_by(&self, line: ItemId) -> Option<&str> {
        self.state.line_checks.get(&line).map(AsRef::as_ref)
    }

    /// Who looked through the record as it stands now.
    pub fn looked_through_by(&self) -> Option<&str> {
        self.state.looked_through.as_deref()
    }

    /// That the mass of a line is not what was asked for.
    fn off_its_mass(&self, status: &LineStatus) -> Option<Point> {
        let line = status.line;
        let name = self.opening.name_of(line);
        let show = |mass| self.mass_words(Some(line), mass);
        let (actual, planned) = (show(status.actual), show(status.planned));
        let about = |kind: &str| Identity::new(kind).with(line.0).with(&planned);
        let off = |kind: &str, where_it_is: &str| {
            Point::open(
                about(kind).with(&actual),
                format!(
                    "{name} is {where_it_is} its tolerance: {actual} weighed, {planned} ± {} asked for",
                    show(status.tolerance)
                ),
            )
        };
        match status.state {
            LineState::Pending => Some(Point::open(
                about("not weighed"),
                format!("{name} is not weighed"),
            )),
            LineState::Short => Some(off("short", "below")),
            LineState::Over => Some(off("over", "above")),
            LineState::Within => None,
        }
    }

    fn irregularities(&self) -> Vec<Point> {
        let mut points = Vec::new();
        let opening = &self.opening;
        let gated = opening.rules >= Opening::GATED;
        if self.not_for_sale() {
            points.push(Point::open(
                Identity::new("trial"),
                format!("trial batch, not for sale: {}", opening.trial),
            ));
        }
        for status in self.lines() {
            points.extend(self.off_its_mass(&status));
            points.extend(self.without_lot(status.line));
            if opening.second_check
                && !status.actual.is_zero()
                && self.line_checked_by(status.line).is_none()
            {
                let name = opening.name_of(status.line);
                let weighed = self.standing_portions();
                let weighed = weighed.filter(|p| p.line == Some(status.line)).count();
                points.push(Point::open(
                    Identity::new("unchecked").with(status.line.0).with(weighed),
                    format!("no second person checked the weighing of {name}"),
                ));
            }
        }
        if gated
            && let Some(water) = self
                .standing_portions()
                .filter(|p| p.line.is_none() && p.lot.is_none())
                .last()
            // Where it was stopped and taken all the same, that is a point of its own.
            && !self.excepted(None, &lot_not_noted(MADE_UP))
        {
            points.push(Point::open(
                Identity::new("no lot").with(water.entry),
                "the water made up has no lot".to_owned(),
            ));
        }
        points.extend(self.water_into_none());
        for deviation in &self.state.deviations {
            let identity = Identity::new("deviation")
                .with(deviation.entry)
                .with(&deviation.what);
            points.push(Point {
                done_by: Some((deviation.by.clone(), deviation.reason.clone())),
                ..Point::open(identity, deviation.what.to_string())
            });
        }
        for step in opening.variant().phases.iter().flat_map(|p| &p.steps) {
            points.extend(self.off_its_temperature(step));
            if !self.worked(step.id) {
                points.push(Point::open(
                    Identity::new("step").with(step.id.0),
                    format!("step “{}” is not done", step.text),
                ));
            }
        }
        self.measured_points(&mut points);
        self.filled_points(&mut points);
        self.label_points(&mut points);
        for remark in &self.state.remarks {
            points.push(Point::open(
                Identity::new("remark")
                    .with(remark.entry)
                    .with(&remark.text),
                format!("remark of {}: {}", remark.by, remark.text),
            ));
        }
        if opening.second_check && self.looked_through_by().is_none() {
            points.push(Point::open(
                Identity::new("not looked through"),
                "no second person looked through the record".to_owned(),
            ));
        }
        points
    }

    /// That water was made up in a product that holds none, in which microbes may now grow.
    fn water_into_none(&self) -> Option<Point> {
        let made_up = || self.standing_portions().filter(|p| p.line.is_none());
        let entries: Vec<String> = made_up().map(|p| p.entry.to_string()).collect();
        let mass: ExactMass = made_up().map(|p| p.mass).sum();
        if entries.is_empty() {
            return None;
        }
        let opening = &self.opening;
        let water = compose(&opening.formula, opening.variant()).water().typical;
        is_without_water(water).then(|| {
            let mass = self.mass_words(None, mass);
            Point::open(
                Identity::new("water into none").with(entries.join(" ")).with(&mass),
                format!(
                    "{mass} of water was made up, but {}: none can have evaporated, and what grows in water may grow in it now",
                    without_water_words(water)
                ),
            )
        })
    }

    /// That much of what was weighed is neither filled, sampled nor thrown away.
    fn unaccounted(&self, sum: &Reconciliation) -> Option<Point> {
        let share = sum.unaccounted.share_of(sum.weighed)?.as_percent();
        (share > UNACCOUNTED_PERCENT).then(|| {
            let lost = self.mass_words(None, sum.unaccounted);
            Point::open(
                Identity::new("not accounted for").with(&lost),
                format!(
                    "{lost}, {share:.1} % of what was weighed, is not accounted for: neither filled, sampled nor thrown away"
                ),
            )
        })
    }

    /// That containers are filled and none is recorded, or no label, though the stock had them.
    fn not_packed(&self, points: &mut Vec<Point>) {
        let Some(count) = self.containers().filter(|count| *count > 0) else {
            return;
        };
        let packed = |labels| {
            let mut packaging = self.packaging().iter();
            packaging.any(|p| is_label(&p.what) == labels)
        };
        let opening = &self.opening;
        let missing = [
            ("packaging", opening.packaging_in_stock && !packed(false)),
            (
                "labels",
                opening.labels_in_stock && self.labels().is_empty() && !packed(true),
            ),
        ];
        for (what, _) in missing.into_iter().filter(|(_, is_missing)| *is_missing) {
            let are = if what == "labels" { "are" } else { "is" };
            points.push(Point::open(
                Identity::new("not packed").with(what).with(count),
                format!(
                    "{count} containers are filled and no {what} {are} recorded, though the stock had some"
                ),
            ));
        }
    }

    /// What of the filling and the yield is not as it should be.
    fn filled_points(&self, points: &mut Vec<Point>) {
        let Some(sum) = self.reconciliation() else {
            if self.state.filled.is_none() {
                points.push(Point::open(
                    Identity::new("not filled"),
                    "it is not filled".to_owned(),
                ));
            }
            return;
        };
        let show = |mass| self.mass_words(None, mass);
        if sum.samples.is_zero() {
            points.push(Point::open(
                Identity::new("no sample"),
                "no retained sample is recorded".to_owned(),
            ));
        }
        points.extend(self.unaccounted(&sum));
        self.not_packed(points);
        if sum.unaccounted < ExactMass::ZERO {
            let more = show(ExactMass::ZERO - sum.unaccounted);
            points.push(Point::open(
                Identity::new("more than weighed").with(&more),
                format!("{more} more was filled, sampled and thrown away than was weighed"),
            ));
        }
    }

    /// What of the labels is not as it should be.
    fn label_points(&self, points: &mut Vec<Point>) {
        let code = self.code().as_str();
        for run in self.labels() {
            let what = &run.what;
            let stands = run.code.trim();
            if !stands.eq_ignore_ascii_case(code) {
                points.push(Point::open(
                    Identity::new("label code").with(run.entry).with(stands),
                    format!("the labels “{what}” bear the batch code {stands}, not {code}"),
                ));
            }
            if let Durability::BestBefore(day) = &self.opening.variant().label.durability
                && run.date.trim().is_empty()
            {
                points.push(Point::open(
                    Identity::new("label date").with(run.entry).with(day),
                    format!("the labels “{what}” bear no date, the label asks for {day}"),
                ));
            }
            let missing = run.labels_missing();
            if missing != 0 {
                let words = match missing {
                    1 => format!(
                        "1 label “{what}” is neither on a container nor recorded as destroyed"
                    ),
                    2.. => format!(
                        "{missing} labels “{what}” are neither on containers nor recorded as destroyed"
                    ),
                    _ => format!(
                        "of the labels “{what}” {} more were put on and destroyed than printed",
                        missing.unsigned_abs()
                    ),
                };
                points.push(Point::open(
                    Identity::new("labels missing")
                        .with(run.entry)
                        .with(missing),
                    words,
                ));
            }
        }
        let Some(containers) = self.containers() else {
            return;
        };
        let mut kinds: Vec<&str> = self.labels().iter().map(|r| r.what.trim()).collect();
        kinds.sort_unstable();
        kinds.dedup();
        for what in kinds {
            let of_kind = self.labels().iter().filter(|r| r.what.trim() == what);
            let applied: u64 = of_kind.map(|r| u64::from(r.applied)).sum();
            if applied != u64::from(containers) {
                points.push(Point::open(
                    Identity::new("labels on containers")
                        .with(what)
                        .with(applied)
                        .with(containers),
                    format!(
                        "{applied} labels “{what}” are on containers, {containers} containers are filled"
                    ),
                ));
            }
        }
    }

    fn standing_portions(&self) -> impl Iterator<Item = &super::Portion> {
        self.state.portions.iter().filter(|p| !p.struck)
    }

    /// The last measurement of a kind that stands and was made before the record was closed;
    /// one that was added later only where there is no other.
    pub fn last_measured(&self, what: Quality) -> Option<&Measurement> {
        self.last_of(|m| m.what == what)
    }

    fn last_of(&self, is_of: impl Fn(&Measurement) -> bool) -> Option<&Measurement> {
        let standing = self.state.measurements.iter().filter(|m| !m.struck);
        let mut standing: Vec<&Measurement> = standing.filter(|m| is_of(m)).collect();
        if standing.iter().any(|m| !m.late) {
            standing.retain(|m| !m.late);
        }
        standing.pop()
    }

    /// What of the specification was not measured, and what is outside of it.
    fn measured_points(&self, points: &mut Vec<Point>) {
        let opening = &self.opening;
        let all = opening.variant().must_measure();
        for wanted in &all {
            let name = wanted.name();
            self.later_points(wanted, &all, points);
            let about = |kind: &str| Identity::new(kind).with(wanted.quality.label()).with(name);
            let Some(found) = self.found(wanted) else {
                let words = match wanted.quality {
                    // That it is not filled is a point of its own.
                    Quality::Yield => continue,
                    Quality::Appearance | Quality::Odour => format!("the {name} is not judged"),
                    _ => format!("the {name} is not measured"),
                };
                points.push(Point::open(about("not measured"), words));
                continue;
            };
            let words = match wanted.judge(&found) {
                Verdict::Within | Verdict::ByEye => continue,
                Verdict::Outside(asked) if wanted.quality == Quality::Yield => {
                    format!("the yield is {found}, {asked} is asked for")
                }
                Verdict::Outside(asked) => {
                    format!("{name} {found} was measured, {asked} is asked for")
                }
                Verdict::Unread(why) => {
                    format!("the {name} was recorded as “{found}” and is not compared: {why}")
                }
            };
            points.push(Point::open(about("outside").with(found), words));
        }
        points.extend(self.ph_point());
    }

    /// What was measured of a characteristic after the record was closed, besides what it was
    /// closed with, and is outside of what is asked for.
    fn later_points(
        &self,
        wanted: &Characteristic,
        all: &[Characteristic],
        points: &mut Vec<Point>,
    ) {
        let counted = self.measured(wanted).map(|m| m.entry);
        let later = self.state.measurements.iter();
        let later = later.filter(|m| m.late && !m.struck && Some(m.entry) != counted);
        for m in later.filter(|m| is_of(m, wanted, all)) {
            let found = m.value.trim();
            if let Verdict::Outside(asked) = wanted.judge(found) {
                let name = wanted.name();
                let when = moment(&m.at);
                points.push(Point::open(
                    Identity::new("outside later").with(m.entry).with(found),
                    format!(
                        "{name} {found} was measured after closing, on {when}; {asked} is asked for"
                    ),
                ));
            }
        }
    }

    /// What was found of a characteristic, as it was recorded: what was measured last, or the
    /// yield as it is counted.
    pub fn found(&self, wanted: &Characteristic) -> Option<String> {
        if wanted.quality == Quality::Yield {
            let share = self.reconciliation()?.yield_share.as_percent();
            return Some(format!("{share:.1} %"));
        }
        let measured = self.measured(wanted)?;
        Some(measured.value.trim().to_owned())
    }

    /// The last measurement of a characteristic that stands and was made before the record was
    /// closed; one that was added later only where there is no other.
    pub fn measured(&self, wanted: &Characteristic) -> Option<&Measurement> {
        let all = self.opening.variant().must_measure();
        self.last_of(|m| is_of(m, wanted, &all))
    }

    /// What the last pH measured has against it: the range in which all materials are
    /// stable and work. Figures are compared as they are shown.
    fn ph_point(&self) -> Option<Point> {
        let measured = self.last_measured(Quality::Ph)?;
        let told = measured.value.trim();
        let value = typed::ph(told).ok()?.value();
        let range = common_ph_window(&self.opening.formula, self.opening.variant()).ok()??;
        let within = ph_hundredths(range.low.value())..=ph_hundredths(range.high.value());
        (!within.contains(&ph_hundredths(value))).then(|| {
            let bears = format!("{:.1} to {:.1}", range.low, range.high);
            Point::open(
                Identity::new(PH_OF_MATERIALS).with(told).with(&bears),
                format!("pH {told} was measured; all materials bear and work within {bears}"),
            )
        })
    }
}
