//! The way out of an overshot line.

use eframe::egui::{Button, Ui, vec2};
use formulation::batch::record::{Event, Obstacle, Rescue};
use formulation::batch::weighing_scale::WeighingScale;
use formulation::finding::Level;
use formulation::formula::Formula;
use formulation::mass::{ExactMass, shown};
use formulation::quantity::in_millilitres;

use super::{At, Form, RunPage, caution};
use crate::theme;

/// Height of the button, in points.
const BUTTON: f32 = 40.0;

/// The way out of a line that is over, as far as there is one.
pub fn of(at: At<'_>) -> Option<Rescue> {
    if at.record.is_closed() {
        return None;
    }
    let books = &at.view.state.books;
    let stock = (!books.stock().lots.is_empty())
        .then(|| (books.stock(), books.usage(), at.view.state.today()));
    at.record.rescue(stock)
}

/// Shows it, and takes it.
pub fn ui(ui: &mut Ui, at: At<'_>, rescue: Rescue, page: &mut RunPage) {
    let opening = at.record.opening();
    let name = opening.name_of(rescue.line);
    let finest = opening.scales.iter().map(WeighingScale::resolution).min();
    let show = |mass| shown(mass, finest.unwrap_or_default(), opening.unit);
    ui.add_space(theme::TIGHT);
    let over = if rescue.is_unlikely() {
        format!(
            "Was so much of {name} really taken? If the figure was mistyped or misread, correct the line. Otherwise accept it"
        )
    } else {
        format!("{name} is over. Accept it")
    };
    caution(
        ui,
        Level::Caution,
        format!(
            "{over}, or make the whole batch {:.2} times as large: {} in all",
            rescue.factor,
            show(rescue.batch)
        ),
    );
    for (line, mass) in &rescue.top_ups {
        ui.horizontal(|ui| {
            ui.add_space(theme::GAP + theme::TIGHT);
            let name = opening.name_of(*line);
            ui.label(format!("add {} of {name}", show(*mass)));
        });
    }
    let mut lacking = Vec::new();
    for obstacle in &rescue.obstacles {
        let words = obstacle_words(obstacle, &opening.formula, show);
        match obstacle {
            Obstacle::Stock { .. } => lacking.push(words),
            Obstacle::Vessel { .. } | Obstacle::VesselUnknown => {
                caution(ui, Level::Breach, words);
            }
        }
    }
    if !lacking.is_empty() {
        let words = format!("The stock lacks {}", lacking.join("; "));
        caution(ui, Level::Caution, words);
    }
    ui.add_space(theme::TIGHT);
    let larger = Button::new("Make the batch larger").min_size(vec2(0.0, BUTTON));
    if ui
        .horizontal(|ui| ui.add(larger))
        .inner
        .on_hover_text("Records new masses for every line; nothing weighed is changed")
        .clicked()
    {
        let Rescue { masses, .. } = rescue;
        let event = Event::Rescaled {
            masses,
            reason: format!("{name} was overshot").into(),
        };
        page.send(at, Form::Plain, event);
    }
}

fn obstacle_words(
    obstacle: &Obstacle,
    formula: &Formula,
    show: impl Fn(ExactMass) -> String,
) -> String {
    match obstacle {
        Obstacle::Vessel { volume, working } => format!(
            "The vessel would hold {:.0} ml, and {:.0} ml may be in it",
            in_millilitres(*volume),
            in_millilitres(*working)
        ),
        Obstacle::VesselUnknown => {
            "The density is not known, so it is not known whether the vessel is large enough"
                .to_owned()
        }
        Obstacle::Stock { material, short } => {
            let name = formula
                .material(material)
                .map_or(material.as_str(), |m| m.name.as_ref());
            format!("{} of {name}", show(*short))
        }
    }
}
