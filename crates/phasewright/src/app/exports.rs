//! What leaves the window as a file: the finished formula, the formula for other programs, the
//! chart.

use formulation::file::finished;
use formulation::file::formula_export::{ExportForm, export, not_carried};
use formulation::trial::known;

use crate::command::{Export, PictureFormat};
use crate::state::State;
use crate::state::disk::file_stem;
use crate::widgets::composition_chart;

/// The variant worked on, frozen with everything resolved.
pub(super) fn export_finished(state: &State) -> Result<Export, String> {
    let document = state.current();
    let variant = document.variant();
    let evaluation = state.evaluation(document, variant.id);
    let text = finished::write(
        document.formula(),
        variant,
        &evaluation,
        state.today(),
        &finished::Enclosed {
            readings: known::told(state.trials(document.id).book(), variant),
            ..finished::Enclosed::default()
        },
    )
    .map_err(|e| format!("The formula could not be frozen: {e}"))?;
    let stem = file_stem(&format!("{} {}", document.name(), variant.name));
    Ok(Export {
        title: "Save the finished formula".to_owned(),
        file_name: format!("{stem}.finished.ron"),
        bytes: text.into_bytes().into(),
    })
}

/// The formula for other programs, as a file.
/// What the form cannot hold stands beside it, in words.
pub(super) fn export_formula(
    state: &State,
    form: ExportForm,
) -> Result<(Export, Vec<String>), String> {
    let document = state.current();
    let (formula, variant) = (document.formula(), document.variant());
    let bytes = export(formula, variant, form).map_err(|e| e.to_string())?;
    let stem = match form {
        ExportForm::Csv => file_stem(&format!("{} {}", formula.name, variant.name)),
        ExportForm::Xlsx | ExportForm::Json => file_stem(&formula.name),
    };
    // That compositions stay behind is said in the menu.
    let left = not_carried(formula, variant, form);
    let export = Export {
        title: "Save the formula for other programs".to_owned(),
        file_name: format!("{stem}.{}", form.ending()),
        bytes: bytes.into(),
    };
    Ok((export, if left.len() > 1 { left } else { Vec::new() }))
}

/// The chart of the variant worked on, as a file.
pub(super) fn export_chart(state: &State, format: PictureFormat) -> Result<Export, String> {
    let document = state.current();
    let variant = document.variant();
    let evaluation = state.evaluation(document, variant.id);
    let (formula, composition) = (document.formula(), &evaluation.composition);
    let (ending, bytes) = match format {
        PictureFormat::Svg => (
            "svg",
            composition_chart::to_svg(formula, variant, composition).into_bytes(),
        ),
        PictureFormat::Png => (
            "png",
            composition_chart::to_png(formula, variant, composition).map_err(|e| e.to_string())?,
        ),
    };
    let stem = file_stem(&format!("{} {}", formula.name, variant.name));
    Ok(Export {
        title: "Save the chart".to_owned(),
        file_name: format!("{stem}.{ending}"),
        bytes: bytes.into(),
    })
}
