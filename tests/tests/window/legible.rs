//! What is shown can be read: contrast as painted, words that end in "…" instead of being cut.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::window::{Look, bench, plain_wash, state};
use egui::{Color32, Rect, Role, Shape};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::edit::Edit;
use formulation::shelf::Shelf;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::theme::contrast;

fn window(look: Look) -> Harness<'static, Bench> {
    let mut state = state(Shelf::new(), plain_wash());
    state.settings.hints_closed = true;
    let mut harness = bench(look, state);
    harness.run();
    harness
}

/// The greatest contrast of a painted place to what most of it is.
fn seen(harness: &mut Harness<'_, Bench>, place: Rect, scale: f32) -> f32 {
    let image = harness.render().unwrap();
    let place = place.shrink(3.0) * scale;
    let mut counted = std::collections::BTreeMap::new();
    for y in place.top() as u32..place.bottom() as u32 {
        for x in place.left() as u32..place.right() as u32 {
            let [r, g, b, _] = image.get_pixel(x, y).0;
            *counted.entry([r, g, b]).or_insert(0) += 1;
        }
    }
    let ground = counted.iter().max_by_key(|(_, n)| **n).unwrap();
    let colour = |[r, g, b]: [u8; 3]| Color32::from_rgb(r, g, b);
    let ground = colour(*ground.0);
    let of = counted.keys().map(|c| contrast(colour(*c), ground));
    of.fold(1.0, f32::max)
}

/// The filler's figure, which no one types, is the main figure all the same; signs that cannot
/// be used are recognised. WCAG 2.2, 1.4.3 and 1.4.11.
#[test]
fn the_figure_and_lock_of_the_filler_and_undo_are_seen() {
    for look in [Look::USUAL.doubled(), Look::USUAL.dark().doubled()] {
        let mut harness = window(look);
        for (role, name, least) in [
            (Role::TextInput, "Water percent", 4.5),
            (Role::CheckBox, "Hold Water", 3.0),
            (Role::Button, "Undo", 3.0),
            (Role::Button, "Redo", 3.0),
        ] {
            let place = harness.get_by_role_and_label(role, name).rect();
            let ratio = seen(&mut harness, place, look.scale);
            assert!(ratio >= least, "{name} in {:?}: {ratio}", look.theme);
        }
    }
}

fn texts(shape: &Shape, found: &mut Vec<(String, bool)>) {
    match shape {
        Shape::Text(text) => found.push((text.galley.text().to_owned(), text.galley.elided)),
        Shape::Vec(shapes) => shapes.iter().for_each(|shape| texts(shape, found)),
        _ => {}
    }
}

/// Whether words stand in the window, and whether they end in "…".
fn painted(harness: &Harness<'_, Bench>, words: &str) -> Vec<bool> {
    let mut found = Vec::new();
    for clipped in &harness.output().shapes {
        texts(&clipped.shape, &mut found);
    }
    let of = found.into_iter().filter(|(text, _)| text == words);
    of.map(|(_, elided)| elided).collect()
}

#[test]
fn words_that_are_too_long_for_their_field_end_in_an_ellipsis() {
    const PURPOSE: &str = "Water and everything that dissolves in it, stirred in the cold";
    let mut harness = window(Look::SMALL);
    let phase = harness.state().state().current().variant().phases[0].id;
    let purpose = PURPOSE.into();
    let edit = Edit::SetPhasePurpose { phase, purpose };
    harness.state_mut().push(Command::Edit(edit));
    harness.run();
    assert_eq!(painted(&harness, PURPOSE), [true]);
    // Whoever comes to change them sees all there is, from the cursor on.
    harness.get_by_label("Purpose of phase A").focus();
    harness.run();
    assert_eq!(painted(&harness, PURPOSE), [false]);
    // Where there is room, nothing is left out.
    assert_eq!(painted(&harness, "Cleansing"), [false]);
}
