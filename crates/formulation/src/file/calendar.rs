//! Days as iCalendar (RFC 5545), for a phone or a desk: of stability plans and of the workshop.

use std::fmt::Write as _;

use icalendar::{Calendar, Component as _, Event, Parameter, Property};
use sha2::{Digest as _, Sha256};

use crate::due::Due;
use crate::formula::Date;

fn day_property(name: &str, day: Date) -> Property {
    Property::new(name, day.strftime("%Y%m%d").to_string())
        .append_parameter(Parameter::new("VALUE", "DATE"))
        .done()
}

/// The identity of a task among all calendars: not to be guessed from another name.
fn uid(identity: &str) -> String {
    let hash = Sha256::digest(identity.as_bytes());
    let mut out = String::new();
    for byte in hash.iter().take(12) {
        // Writing to a string does not fail.
        let _ = write!(out, "{byte:02x}");
    }
    out + "@phasewright"
}

/// A calendar of what is due, one event of a whole day each. `stamp` is now.
#[must_use]
pub fn calendar(name: &str, tasks: &[Due], stamp: jiff::Timestamp) -> String {
    let stamp = stamp.strftime("%Y%m%dT%H%M%SZ").to_string();
    let mut out = Calendar::empty();
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", "-//Phasewright//Calendar//EN"),
        ("CALSCALE", "GREGORIAN"),
        ("METHOD", "PUBLISH"),
        // `NAME` of RFC 7986 is not escaped by the crate, this is.
        ("X-WR-CALNAME", name),
    ] {
        out.append_property(Property::new(key, value));
    }
    for task in tasks {
        let mut event = Event::new();
        event
            .uid(&uid(&task.identity))
            .append_property(Property::new("DTSTAMP", &stamp))
            .append_property(day_property("DTSTART", task.day))
            .summary(&task.what)
            .append_property(Property::new("TRANSP", "TRANSPARENT"));
        if let Ok(next) = task.day.tomorrow() {
            event.append_property(day_property("DTEND", next));
        }
        if !task.more.is_empty() {
            event.description(&task.more);
        }
        out.push(event.done());
    }
    out.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 5545: lines of at most 75 octets (a SHOULD; the crate counts the blank before a
    /// folded one apart) ended by CR LF (3.1), text escaped (3.3.11), the
    /// end of a day is the next one (3.6.1), identity, stamp and product given (3.6, 3.8.4.7).
    #[test]
    fn a_calendar_keeps_to_the_standard() {
        let long = "öäü, grün; 40 °C \\ ".repeat(8);
        let task = |identity: &str| Due {
            identity: identity.to_owned(),
            day: Date::constant(2026, 2, 28),
            until: Date::constant(2026, 2, 28),
            what: long.clone(),
            more: "two\nlines".to_owned(),
        };
        let text = calendar(
            "Oat and juniper, gel",
            &[task("a"), task("b")],
            "2026-02-01T10:00:00Z".parse().unwrap(),
        );
        assert!(
            text.split("\r\n")
                .all(|l| l.len() <= 76 && !l.contains('\n')),
            "{text}"
        );
        let unfolded = text.replace("\r\n ", "");
        let escaped = long
            .replace('\\', "\\\\")
            .replace(',', "\\,")
            .replace(';', "\\;");
        for expected in [
            "BEGIN:VCALENDAR",
            "DTSTART;VALUE=DATE:20260228",
            "DTEND;VALUE=DATE:20260301",
            "DTSTAMP:20260201T100000Z",
            "DESCRIPTION:two\\nlines",
            "PRODID:-//Phasewright//Calendar//EN",
            "END:VCALENDAR",
        ] {
            assert!(
                unfolded.lines().any(|l| l == expected),
                "{expected}\n{unfolded}"
            );
        }
        assert!(
            unfolded.contains(&format!("SUMMARY:{escaped}")),
            "{unfolded}"
        );
        let uids: Vec<&str> = unfolded.lines().filter(|l| l.starts_with("UID:")).collect();
        assert_eq!(uids.len(), 2);
        assert_ne!(uids[0], uids[1]);
    }
}
