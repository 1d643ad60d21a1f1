//! Days of samples as iCalendar (RFC 5545), for a phone or a desk.

use std::fmt::Write as _;

use crate::trial::stability::{DueSample, State};

/// Octets of a line before it is folded (RFC 5545, 3.1).
const LINE: usize = 75;

/// Text with what has a meaning of its own escaped (RFC 5545, 3.3.11).
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c if c.is_control() => {}
            c => out.push(c),
        }
    }
    out
}

/// Adds a line, folded between characters.
fn line(out: &mut String, text: &str) {
    let mut length = 0;
    for c in text.chars() {
        if length + c.len_utf8() > LINE {
            out.push_str("\r\n ");
            length = 1;
        }
        out.push(c);
        length += c.len_utf8();
    }
    out.push_str("\r\n");
}

/// All samples that are still to be read, one event of a whole day each. `stamp` is now in
/// UTC as `YYYYMMDDTHHMMSSZ`; `name` is the formula's. The same sample has the same identity
/// in every export, so that a calendar replaces it instead of doubling it.
#[must_use]
pub fn icalendar(name: &str, samples: &[DueSample], stamp: &str) -> String {
    let mut out = String::new();
    for head in [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//Phasewright//Stability calendar//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
    ] {
        line(&mut out, head);
    }
    let identity: u64 = name.bytes().fold(0xcbf2_9ce4_8422_2325, |h, b| {
        (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
    });
    for due in samples.iter().filter(|d| d.state != State::Done) {
        let day = |d: crate::formula::Date| {
            let mut text = String::new();
            // Writing to a string does not fail.
            let _ = write!(text, "{:04}{:02}{:02}", d.year(), d.month(), d.day());
            text
        };
        let s = due.sample;
        line(&mut out, "BEGIN:VEVENT");
        line(
            &mut out,
            &format!(
                "UID:{identity:016x}-{}-{}-{}@phasewright",
                s.plan, s.condition, s.time
            ),
        );
        line(&mut out, &format!("DTSTAMP:{stamp}"));
        line(&mut out, &format!("DTSTART;VALUE=DATE:{}", day(due.day)));
        if let Ok(next) = due.day.tomorrow() {
            line(&mut out, &format!("DTEND;VALUE=DATE:{}", day(next)));
        }
        let summary = format!("{name}: read sample {}, {}", due.condition, due.time);
        line(&mut out, &format!("SUMMARY:{}", escaped(&summary)));
        line(&mut out, "TRANSP:TRANSPARENT");
        line(&mut out, "END:VEVENT");
    }
    line(&mut out, "END:VCALENDAR");
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 5545, 3.1: lines of at most 75 octets, ended by CR LF, folded by a blank.
    #[test]
    fn lines_are_folded_between_characters_and_unfold_to_the_text() {
        let text = format!("SUMMARY:{}", "öäü, grün; 40 °C ".repeat(20));
        let mut out = String::new();
        line(&mut out, &text);
        assert!(out.split("\r\n").all(|l| l.len() <= LINE));
        assert_eq!(out.replace("\r\n ", "").trim_end_matches("\r\n"), text);
        assert_eq!(escaped("a,b;c\\d\ne"), "a\\,b\\;c\\\\d\\ne");
    }
}
