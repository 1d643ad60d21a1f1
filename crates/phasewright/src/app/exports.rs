//! What leaves the window as a file: the finished formula, the formula for other programs, the
//! chart. It is made beside the window.

use formulation::file::finished;
use formulation::file::formula_export::{ExportForm, export, not_carried};
use formulation::trial::known;

use crate::command::{Making, PictureFormat};
use crate::state::State;
use crate::state::disk::file_stem;
use crate::widgets::composition_chart;

/// The variant worked on, frozen with everything resolved.
pub(super) fn finished_formula(state: &State) -> Making {
    let document = state.current();
    let (formula, variant) = (document.formula().clone(), document.variant().clone());
    let evaluation = state.evaluation(document, variant.id);
    let readings = known::told(state.trials(document.id).book(), &variant);
    let today = state.today();
    let stem = file_stem(&format!("{} {}", document.name(), variant.name));
    let file_name = format!("{stem}.finished.ron");
    Making::new("Save the finished formula", file_name, move || {
        let enclosed = finished::Enclosed {
            readings: readings.clone(),
            ..finished::Enclosed::default()
        };
        finished::write(&formula, &variant, &evaluation, today, &enclosed)
            .map(String::into_bytes)
            .map_err(|e| format!("The formula could not be frozen: {e}"))
    })
}

/// The formula for other programs, as a file.
/// What the form cannot hold stands beside it, in words.
pub(super) fn formula_for_others(state: &State, form: ExportForm) -> Making {
    let document = state.current();
    let (formula, variant) = (document.formula().clone(), document.variant().clone());
    let stem = match form {
        ExportForm::Csv => file_stem(&format!("{} {}", formula.name, variant.name)),
        ExportForm::Xlsx | ExportForm::Json => file_stem(&formula.name),
    };
    // That compositions stay behind is said in the menu.
    let left = not_carried(&formula, &variant, form);
    let file_name = format!("{stem}.{}", form.ending());
    let mut making = Making::new(
        "Save the formula for other programs",
        file_name,
        move || export(&formula, &variant, form),
    );
    if left.len() > 1 {
        making.left_behind = left;
    }
    making
}

/// The chart of the variant worked on, as a file.
pub(super) fn chart(state: &State, format: PictureFormat) -> Making {
    let document = state.current();
    let (formula, variant) = (document.formula().clone(), document.variant().clone());
    let evaluation = state.evaluation(document, variant.id);
    let ending = match format {
        PictureFormat::Svg => "svg",
        PictureFormat::Png => "png",
    };
    let stem = file_stem(&format!("{} {}", formula.name, variant.name));
    Making::new("Save the chart", format!("{stem}.{ending}"), move || {
        let composition = &evaluation.composition;
        match format {
            PictureFormat::Svg => {
                Ok(composition_chart::to_svg(&formula, &variant, composition).into_bytes())
            }
            PictureFormat::Png => composition_chart::to_png(&formula, &variant, composition),
        }
    })
}
