//! One frame of the Formula sheet with 60, 500 and 3,000 lines, without painting: drawing
//! the widgets, and the same while a slider is dragged, which evaluates the formula anew.
//! One frame of the Shelf sheet with 10,000 materials while it is scrolled.

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use eframe::egui;
use formulation::edit::{Edit, GiveWay, apply};
use formulation::formula::{Formula, ItemId};
use formulation::material::{Material, MaterialId, PhaseKind};
use formulation::quantity::Percent;
use formulation::shelf::{Shelf, built_in};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;
use phasewright::state::{Folders, Host, State};
use phasewright::theme;

/// A formula of so many lines in four phases; the first line is the filler.
fn formula(lines: usize) -> (Formula, ItemId) {
    let mut formula = Formula::new("Many lines");
    let variant = formula.active;
    let mut edit = |edit: Edit| -> Option<ItemId> {
        let applied = apply(&formula, variant, &edit).ok()?;
        formula = applied.formula;
        applied.created
    };
    let mut phases: Vec<ItemId> = vec![ItemId(2)];
    for at in 1..4 {
        phases.extend(edit(Edit::AddPhase {
            at,
            kind: PhaseKind::Other,
            purpose: "".into(),
        }));
    }
    let mut last = ItemId(0);
    let share = Percent::HUNDRED.units() / (lines as i64 + 20);
    let materials: Vec<_> = built_in().iter().collect();
    for (i, material) in materials.iter().cycle().take(lines).enumerate() {
        let percent = if i == 0 { 0 } else { share };
        let line = edit(Edit::AddLine {
            phase: phases[i * phases.len() / lines],
            at: usize::MAX,
            material: Arc::clone(material),
            percent: Percent::from_units(percent),
        });
        if let Some(line) = line {
            if i == 0 {
                edit(Edit::SetFiller(Some(line)));
            }
            last = line;
        }
    }
    (formula, last)
}

struct Window {
    context: egui::Context,
    bench: Bench,
    time: f64,
}

impl Window {
    fn new(formula: Formula) -> Self {
        Self::with_shelf(formula, built_in().clone())
    }

    fn with_shelf(formula: Formula, shelf: Shelf) -> Self {
        let context = egui::Context::default();
        context.enable_accesskit();
        theme::install(&context);
        let host = Host::plain(jiff::Timestamp::now);
        let mut state = State::new(host, Arc::new(shelf), Folders::default(), Arc::new(formula));
        state.settings.hints_closed = true;
        Self {
            context,
            bench: Bench::new(state),
            time: 0.0,
        }
    }

    fn frame(&mut self) -> egui::FullOutput {
        self.frame_with(Vec::new())
    }

    fn frame_with(&mut self, events: Vec<egui::Event>) -> egui::FullOutput {
        self.time += 1.0 / 60.0;
        let size = egui::vec2(1280.0, 800.0);
        let input = egui::RawInput {
            screen_rect: Some(egui::Rect::from_min_size(egui::Pos2::ZERO, size)),
            time: Some(self.time),
            events,
            ..Default::default()
        };
        let mut output = self.context.run_ui(input, |ui| self.bench.frame(ui));
        output.textures_delta.clear();
        output
    }
}

fn frames(c: &mut Criterion) {
    for lines in [60, 500, 3000] {
        frames_of(c, lines);
    }
}

fn frames_of(c: &mut Criterion, lines: usize) {
    let (formula, line) = formula(lines);
    let mut window = Window::new(formula);
    for _ in 0..4 {
        window.frame();
    }
    c.bench_function(&format!("frame, {lines} lines, at rest"), |b| {
        b.iter(|| black_box(window.frame()));
    });
    let mut more = false;
    c.bench_function(
        &format!("frame, {lines} lines, while a slider moves"),
        |b| {
            b.iter(|| {
                more = !more;
                let units = Percent::HUNDRED.units() / (lines as i64 + 20) + i64::from(more) * 500;
                window.bench.push(Command::Draft(Edit::SetPercent {
                    line,
                    percent: Percent::from_units(units),
                    give: GiveWay::Filler,
                }));
                black_box(window.frame())
            });
        },
    );
    let output = window.frame();
    c.bench_function(&format!("tessellation of a frame, {lines} lines"), |b| {
        b.iter(|| black_box(window.context.tessellate(output.shapes.clone(), 1.0)));
    });
}

/// The built-in materials again and again under other names.
fn large_shelf(count: usize) -> Shelf {
    let materials: Vec<_> = built_in().iter().collect();
    (0..count)
        .map(|n| {
            let mut material = Material::clone(materials[n % materials.len()]);
            material.name = format!("{} {n}", material.name).into();
            material.id = MaterialId::from_name(&material.name);
            Arc::new(material)
        })
        .collect()
}

fn scrolling(c: &mut Criterion) {
    let mut window = Window::with_shelf(Formula::new("Empty"), large_shelf(10_000));
    window.bench.push(Command::Show(SheetName::Shelf));
    for _ in 0..8 {
        window.frame();
    }
    let mut turns = 0_u32;
    c.bench_function("frame, 10,000 materials, while the list is scrolled", |b| {
        b.iter(|| {
            turns += 1;
            // Down for a while, then up again.
            let step = if turns % 600 < 300 { -240.0 } else { 240.0 };
            let events = vec![
                egui::Event::PointerMoved(egui::pos2(300.0, 500.0)),
                egui::Event::MouseWheel {
                    unit: egui::MouseWheelUnit::Point,
                    delta: egui::vec2(0.0, step),
                    source: egui::MouseWheelSource::Wheel,
                    phase: egui::TouchPhase::Move,
                    modifiers: egui::Modifiers::NONE,
                },
            ];
            black_box(window.frame_with(events))
        });
    });
}

criterion_group!(benches, frames, scrolling);
criterion_main!(benches);
