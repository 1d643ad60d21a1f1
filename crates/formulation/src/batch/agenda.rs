//! The calendar of the workshop: what is due today, what is overdue, what comes.

use super::record::{Decision, Event, Record, moment};
use super::workshop::Workshop;
use crate::due::{Due, by_day};
use crate::formula::Date;
use crate::material::MaterialId;
use crate::stock::{LotUsage, Stock, days_after};

/// A batch is looked at again this many days after it was filled, when it has settled:
/// common practice, no source.
pub const LOOK_AGAIN_DAYS: u32 = 1;
/// A retained sample is looked at this many days after it was taken: common practice, no
/// source.
pub const RETAINED_LOOK_DAYS: u32 = 365;

/// Everything that is due up to a number of days from today, and everything overdue, by day.
/// `name` tells what a material is called.
pub fn agenda<'a>(
    (stock, usage): (&Stock, &LotUsage),
    name: &dyn Fn(&MaterialId) -> String,
    records: impl IntoIterator<Item = &'a Record>,
    workshop: &Workshop,
    today: Date,
    ahead: u32,
) -> Vec<Due> {
    let horizon = days_after(today, ahead).unwrap_or(Date::MAX);
    let mut due: Vec<Due> = stock
        .expiring(usage, today, ahead)
        .into_iter()
        .map(|lot| {
            let opened = lot.lot.expiry.is_none_or(|expiry| expiry > lot.last_day);
            let why = if opened {
                "opened long enough then"
            } else {
                "its expiry"
            };
            Due {
                day: lot.last_day,
                until: lot.last_day,
                what: format!(
                    "{}: last day of lot {} ({why})",
                    name(&lot.lot.material),
                    lot.lot.id
                ),
                more: format!("{} g left", lot.left),
                identity: format!("lot {}", lot.lot.id),
            }
        })
        .collect();
    for record in records {
        due.extend(of_record(record));
    }
    due.extend(
        stock
            .packaging
            .iter()
            .filter(|l| l.is_low(usage))
            .map(|lot| Due {
                day: today,
                until: today,
                what: format!("Order {}", lot.what),
                more: format!("{} left of lot {}", lot.left(usage), lot.id),
                identity: format!("packaging {}", lot.id),
            }),
    );
    due.extend(
        workshop
            .duties
            .iter()
            .filter(|d| d.every_days > 0 && d.ended.is_none())
            .map(|duty| {
                let last = duty.done.last();
                let day = last
                    .and_then(|done| days_after(done.day, duty.every_days))
                    .unwrap_or(today);
                Due {
                    day,
                    until: day,
                    what: format!("{}: {}", duty.thing, duty.what),
                    more: last.map_or_else(
                        || "not noted yet".to_owned(),
                        |done| format!("last on {} by {}", done.day, done.by),
                    ),
                    identity: format!("duty {} {}", duty.thing, duty.what),
                }
            }),
    );
    due.retain(|d| d.day <= horizon);
    by_day(&mut due);
    due
}

/// The day of an entry by the clock of the machine that made it.
fn day_of(at: &str) -> Option<Date> {
    at.get(..10)?.parse().ok()
}

/// What a batch asks for after it was filled.
fn of_record(record: &Record) -> Vec<Due> {
    let rejected = matches!(record.decision(), Some((Decision::Reject, _)));
    let filled =
        record
            .entries()
            .iter()
            .rev()
            .find_map(|entry| match record.standing(entry.number)? {
                (Event::Filled { samples, .. }, false) => Some((day_of(&entry.at)?, *samples)),
                _ => None,
            });
    let Some((day, samples)) = filled.filter(|_| !rejected) else {
        return Vec::new();
    };
    let looked_since = |from: Date| {
        record.entries().iter().any(|entry| {
            let measured = matches!(
                record.standing(entry.number),
                Some((Event::Measured { .. }, false))
            );
            measured && day_of(&entry.at).is_some_and(|d| d >= from)
        })
    };
    let code = record.code();
    let name = &record.opening().formula.name;
    let mut due = Vec::new();
    if let Some(again) = days_after(day, LOOK_AGAIN_DAYS).filter(|d| !looked_since(*d)) {
        due.push(Due {
            day: again,
            until: again,
            what: format!("Look at batch {code} again: pH, viscosity, appearance"),
            more: name.to_string(),
            identity: format!("batch {code} next day"),
        });
    }
    if !samples.is_zero()
        && let Some(look) = days_after(day, RETAINED_LOOK_DAYS).filter(|d| !looked_since(*d))
    {
        let taken = record.entries().first().map_or("", |e| e.at.as_ref());
        due.push(Due {
            day: look,
            until: look,
            what: format!("Look at the retained sample of batch {code}"),
            more: format!("{name}, begun {}", moment(taken)),
            identity: format!("batch {code} retained"),
        });
    }
    due
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::record::tests::{add, opening, record};
    use crate::batch::record::{Entry, Quality};
    use crate::batch::workshop::{Duty, DutyDone};
    use crate::mass::read_mass;
    use crate::quantity::Currency;

    #[test]
    fn a_batch_is_looked_at_again_and_a_scale_checked() {
        let mut batch = record(opening("26-001"));
        let mass = |t: &str| read_mass(t, None).unwrap();
        // Everything is recorded on 1 June 2026.
        let filled = Event::Filled {
            containers: 9,
            mass: mass("900 g"),
            samples: mass("50 g"),
            waste: mass("10 g"),
        };
        add(&mut batch, filled).unwrap();
        let workshop = Workshop {
            duties: vec![Duty {
                thing: "bench scale".into(),
                what: "check with the test weight".into(),
                every_days: 30,
                done: vec![DutyDone {
                    day: jiff::civil::date(2026, 5, 10),
                    by: "Wren".into(),
                    found: "".into(),
                }],
                ended: None,
            }],
            ..Workshop::default()
        };
        let stock = Stock::new(Currency::EUR);
        let usage = LotUsage::default();
        let today = jiff::civil::date(2026, 6, 2);
        let list = |batch: &Record, ahead| {
            let name = |id: &MaterialId| id.to_string();
            agenda((&stock, &usage), &name, [batch], &workshop, today, ahead)
        };
        let days: Vec<(String, &str)> = list(&batch, 30)
            .iter()
            .map(|d| (d.day.to_string(), d.standing(today).label()))
            .collect();
        assert_eq!(
            days,
            [
                ("2026-06-02".to_owned(), "due now"),
                ("2026-06-09".to_owned(), "to come")
            ]
        );
        assert_eq!(list(&batch, 400).len(), 3);
        // A scale that was sold is not checked any more.
        let mut sold = workshop.clone();
        sold.duties[0].ended = Some(today);
        let name = |id: &MaterialId| id.to_string();
        let left = agenda((&stock, &usage), &name, [&batch], &sold, today, 30);
        assert!(
            left.iter().all(|d| !d.identity.starts_with("duty")),
            "{left:?}"
        );
        // A measurement of the day of filling does not count as the second look.
        let ph = Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: "5.2".into(),
            remark: "".into(),
        };
        add(&mut batch, ph.clone()).unwrap();
        assert_eq!(list(&batch, 400).len(), 3);
        // Once it is closed, what is asked for can still be done, and is asked for no more.
        let hold = Event::Decided {
            decision: Decision::Hold,
            reason: "settles".into(),
        };
        add(&mut batch, hold).unwrap();
        add(&mut batch, Event::Closed).unwrap();
        let on = |batch: &mut Record, at: &str, event: &Event| {
            batch.check(event, "Wren", None).unwrap();
            let number = batch.next_number();
            let at = at.into();
            let by = "Wren".into();
            let event = event.clone();
            batch
                .add(Entry {
                    number,
                    at,
                    by,
                    event,
                })
                .unwrap();
        };
        let left = |batch: &Record| -> Vec<String> {
            let all = list(batch, 400).into_iter();
            all.filter(|d| d.identity.starts_with("batch"))
                .map(|d| d.identity)
                .collect()
        };
        on(&mut batch, "2026-06-02T09:00:00+02:00", &ph);
        assert_eq!(left(&batch), ["batch 26-001 retained"]);
        on(&mut batch, "2027-06-01T09:00:00+02:00", &ph);
        assert_eq!(left(&batch), Vec::<String>::new());
    }
}
