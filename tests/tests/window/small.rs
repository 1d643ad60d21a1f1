//! Small windows and large text: nothing is lost.

use acceptance::window::{Look, bench, picture, shower_gel, state};
use egui::{Rect, Role, Vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

fn window(look: Look, hints: bool, zoom: f32) -> Harness<'static, Bench> {
    let mut state = state(built_in().clone(), shower_gel(true));
    state.settings.hints_closed = !hints;
    state.settings.zoom = zoom;
    let mut harness = bench(look, state);
    harness.run();
    harness.run();
    harness
}

fn region(harness: &Harness<'_, Bench>, name: &str) -> Rect {
    harness.get_by_role_and_label(Role::Group, name).rect()
}

/// Lines that are wholly seen in the list.
fn seen(harness: &Harness<'_, Bench>) -> usize {
    let lines = region(harness, "Lines of the formula");
    harness
        .get_all_by_role(Role::Slider)
        .filter(|n| lines.contains_rect(n.rect()))
        .count()
}

#[test]
fn in_a_small_window_the_lines_have_the_room() {
    for size in [Vec2::new(1000.0, 640.0), Vec2::new(1024.0, 600.0)] {
        let look = Look {
            size,
            ..Look::SMALL
        };
        for hints in [true, false] {
            let mut harness = window(look, hints, 1.0);
            let screen = Rect::from_min_size(egui::Pos2::ZERO, size);
            let (head, lines) = (
                region(&harness, "Head of the formula"),
                region(&harness, "Lines of the formula"),
            );
            let readouts = region(&harness, "Read-outs");
            // One below the other, none cut off, none wider than the lines.
            assert!(head.bottom() <= lines.top() + 0.5);
            assert!(lines.bottom() <= readouts.top() + 0.5, "{lines} {readouts}");
            assert!(head.right() <= lines.right() + 0.5, "{head} {lines}");
            assert!(readouts.height() < 30.0);
            for place in [head, lines, readouts] {
                assert!(screen.contains_rect(place), "{place}");
            }
            let least = if hints { 3 } else { 4 };
            let name = format!("formula-{}x{}-{hints}", size.x, size.y);
            picture(&mut harness, &name);
            let seen = seen(&harness);
            assert!(seen >= least, "{seen} lines at {size} with hints {hints}");
        }
    }
}

#[test]
fn read_outs_fold_into_one_line_and_none_is_lost() {
    let mut harness = window(Look::SMALL, false, 1.0);
    for name in [
        "pH ",
        "Undissociated ",
        "Water activity ",
        "Density ",
        "HLB ",
        "Salt ",
    ] {
        let place = region(&harness, "Read-outs");
        let all = harness.query_all_by_label_contains(name);
        let found = all
            .filter(|n| n.accesskit_node().role() == Role::Button)
            .any(|n| place.contains_rect(n.rect()));
        let more = harness.query_by_label("More").is_some();
        assert!(found || more, "{name}");
    }
    harness.get_by_label_contains("Density ").click();
    harness.run();
    harness.get_by_label("Density and fill");
    picture(&mut harness, "formula-small-panel");
}

#[test]
fn nothing_moves_by_itself_when_asked_to_keep_still() {
    use phasewright::state::Motion;
    let mut harness = window(Look::SMALL, false, 1.0);
    for (motion, still) in [(Motion::Still, true), (Motion::Full, false)] {
        harness.state_mut().push(Command::SetMotion(motion));
        harness.run();
        for theme in [egui::Theme::Light, egui::Theme::Dark] {
            let style = harness.ctx.style_of(theme);
            assert_eq!(style.animation_time == 0.0, still);
            assert!(!style.visuals.text_cursor.blink);
        }
    }
}

/// Text at 200 % in a usual window: every sheet is drawn in full and scrolled to.
#[test]
fn at_200_percent_every_sheet_can_be_reached() {
    for name in SheetName::ALL {
        let mut harness = window(Look::USUAL, false, 2.0);
        harness.state_mut().push(Command::Show(name));
        harness.run();
        assert!((harness.ctx.zoom_factor() - 2.0).abs() < 1e-6);
        picture(&mut harness, &format!("large-{}", name.label()));
        let screen = harness.ctx.content_rect();
        // Everything that can be used comes into sight when it gets the cursor.
        let mut reached = 0;
        let mut before = None;
        for _ in 0..90 {
            harness.key_press(egui::Key::Tab);
            harness.run();
            let root = harness.root();
            let Some(node) = root
                .children_recursive()
                .find(egui_kittest::Node::is_focused)
            else {
                continue;
            };
            let (label, rect) = (node.accesskit_node().label(), node.rect());
            let seen = screen.intersect(rect);
            assert!(
                seen.height() > 5.0 && seen.width() > 5.0,
                "{name:?}: {label:?} at {rect}, {before:?} before it"
            );
            before = label;
            reached += 1;
        }
        assert!(reached > 20, "{name:?}: {reached}");
    }
}
