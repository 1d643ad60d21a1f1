//! Saponification values: each that is said to be published has its range among those that
//! were read, and none contradicts what was read.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use formulation::chemistry::soap::{self, SapBasis};

use crate::densities::table;

/// How far a single sample may lie outside of the range of its fat, of its value.
const SAMPLE: f64 = 0.01;

/// Fat, lowest and highest value of each row that was read.
fn read() -> Vec<(String, f64, f64)> {
    table("saponification.csv")
        .into_iter()
        .map(|row| {
            (
                row[0].clone(),
                row[1].parse().unwrap(),
                row[2].parse().unwrap(),
            )
        })
        .collect()
}

#[test]
fn saponification_values_agree_with_what_was_read() {
    let fats = soap::fats();
    let mut complaints = Vec::new();
    for (name, low, high) in read() {
        let fat = fats.iter().find(|fat| fat.name == name);
        let (least, _, most) = fat.unwrap_or_else(|| panic!("no fat named {name}")).value;
        assert!(low <= high, "{name}: {low} to {high}");
        let single = low.total_cmp(&high).is_eq();
        let room = if single { SAMPLE * low } else { 0.0 };
        if high < least - room || low > most + room {
            complaints.push(format!("{name}: {least} to {most}, read {low} to {high}"));
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn published_saponification_values_were_read() {
    let read = read();
    let published = soap::fats()
        .iter()
        .filter(|fat| fat.basis == SapBasis::Published);
    let mut many = 0;
    for fat in published {
        let (least, _, most) = fat.value;
        let held = read.iter().any(|(name, low, high)| {
            name == fat.name && low < high && least <= low + 0.5 && high - 0.5 <= most
        });
        assert!(
            held,
            "{}: {least} to {most} has no range that was read",
            fat.name
        );
        many += 1;
    }
    assert!(many >= 45, "{many}");
}

/// The figures worked with lie near single samples that were read, neither above nor below on
/// the whole: fats rich in what takes up no alkali, as shea butter, would lie 5 % too high by
/// their fatty acids alone, and free lye burns.
#[test]
fn typical_values_lie_among_the_samples_read() {
    let mut off = Vec::new();
    for (name, low, high) in read() {
        if low.total_cmp(&high).is_eq() {
            let fat = soap::fats().iter().find(|fat| fat.name == name).unwrap();
            off.push(fat.value.1 - low);
        }
    }
    let count = off.len() as f64;
    let mean = off.iter().sum::<f64>() / count;
    let distance = off.iter().map(|d| d.abs()).sum::<f64>() / count;
    assert!(
        off.len() >= 30 && mean.abs() < 0.5 && distance < 2.5,
        "{mean} {distance}"
    );
}
