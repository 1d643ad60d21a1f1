//! A run of labels to print.

use eframe::egui::{Id, TextEdit, Ui};
use formulation::amount::typed;
use formulation::batch::record::Record;
use formulation::batch::workshop::Paper;
use formulation::file::label_pdf::{MOST_LABELS, labels_pdf};
use formulation::file::pdf::Printing;
use formulation::finding::Level;
use formulation::formula::Market;
use formulation::label::{self, svg};
use formulation::label_info::LabelInfo;

use crate::command::{Command, Making};
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::choice::choice;

/// A run of labels to print, as it is typed.
#[derive(Default)]
pub(super) struct Run {
    count: String,
    /// The code as it was typed, and for which document: never printed on another product.
    batch: Option<(DocumentId, String)>,
    paper: Paper,
    problem: Option<String>,
}

impl Run {
    /// The code typed for this formula, else that of its batch that is open under Make.
    fn code(&self, view: &View<'_>) -> String {
        if let Some((document, code)) = &self.batch
            && *document == view.document.id
        {
            return code.clone();
        }
        let of_this =
            |record: &&Record| record.opening().formula.product() == view.formula.product();
        let open = view.state.books.open_record().filter(of_this);
        open.map_or_else(String::new, |record| record.code().to_string())
    }
}

/// A run of labels for one batch, on sheets to print and cut.
pub(super) fn run(
    ui: &mut Ui,
    view: &View<'_>,
    run: &mut Run,
    market: Market,
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        let mut batch = run.code(view);
        ui.label("Labels to print");
        ui.add(
            TextEdit::singleline(&mut run.count)
                .hint_text("24")
                .desired_width(48.0),
        )
        .accessible_name("How many labels");
        ui.label("for batch");
        let typed = ui
            .add(
                TextEdit::singleline(&mut batch)
                    .hint_text("its code")
                    .desired_width(110.0),
            )
            .accessible_name("Batch code on the labels");
        if typed.changed() {
            run.batch = Some((view.document.id, batch));
        }
        choice(ui, "Paper", &mut run.paper, Paper::ALL, Paper::label, 90.0);
        if ui
            .button("Save as PDF…")
            .on_hover_text("Sheets to print at 100 % and to cut; the date on them is the one stated at the left")
            .clicked()
        {
            run.problem = None;
            match run_pdf(view, run, market) {
                Ok(making) => commands.push(Command::Make(making)),
                Err(problem) => run.problem = Some(problem),
            }
        }
        let not_made = view.not_made(run_id());
        if let Some(problem) = run.problem.as_deref().or(not_made) {
            ui.colored_label(theme::palette(ui).level(Level::Breach), problem);
        }
    });
}

fn run_id() -> Id {
    Id::unique("run of labels")
}

fn run_pdf(view: &View<'_>, run: &Run, market: Market) -> Result<Making, String> {
    let count = typed::optional(&run.count, |t| {
        typed::count_within(t, "a number of labels", 1, MOST_LABELS)
    });
    let count = count.map_err(|e| e.to_string())?.unwrap_or(24);
    let mut variant = view.variant.as_ref().clone();
    let code = run.code(view);
    // Where the label says that its code is printed elsewhere, the file has none in its name.
    let titled = LabelInfo {
        batch_code: code.trim().into(),
        ..variant.label.as_ref().clone()
    };
    variant.label = variant.label.of_batch(&code, None).into();
    let label = label::label(view.formula, &variant, view.evaluation, market);
    let drawing = svg::draw(&label, &variant.label);
    let title = titled.run_title(&view.formula.name);
    let file_name = format!("{title} labels {}.pdf", market.label());
    let paper = run.paper;
    let making = Making::watched("Save the labels to print", file_name, move |waits| {
        let on = Printing::watched(paper, waits);
        labels_pdf(&drawing, &variant.label, &title, count, on)
    });
    Ok(making.asked_by(run_id()))
}
