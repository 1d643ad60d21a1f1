//! Why what was typed was not taken: it stands beside its field and goes when the text there is
//! changed, or taken.

use eframe::egui::{self, Id, Ui};
use formulation::finding::Level;
use formulation::plain_words::sentence;

use super::level_mark::level_mark;
use super::read_out::read_out;

/// What was typed and not taken, and why.
#[derive(Clone)]
struct Refused {
    typed: String,
    why: String,
}

/// Keeps why something typed was not taken; `id` is that of the field, or of fields together.
pub fn refuse(ctx: &egui::Context, id: Id, typed: impl Into<String>, why: impl Into<String>) {
    let (typed, why) = (typed.into(), sentence(&why.into()));
    ctx.data_mut(|d| d.insert_temp(id, Refused { typed, why }));
    ctx.request_repaint();
}

/// What is typed there is taken.
pub fn accept(ctx: &egui::Context, id: Id) {
    ctx.data_mut(|d| d.remove::<Refused>(id));
}

/// The text that was not taken, so that it can be mended instead of typed again.
pub fn refused(ctx: &egui::Context, id: Id) -> Option<String> {
    ctx.data(|d| d.get_temp::<Refused>(id)).map(|r| r.typed)
}

/// Says why what is typed was not taken, as long as it stands there.
pub fn refusal(ui: &mut Ui, id: Id, typed: &str) {
    let Some(refused) = ui.data(|d| d.get_temp::<Refused>(id)) else {
        return;
    };
    if refused.typed != typed {
        accept(ui, id);
        return;
    }
    ui.horizontal_top(|ui| {
        level_mark(ui, Level::Caution);
        let said = ui.add(egui::Label::new(refused.why).wrap());
        read_out(&said);
    });
}

/// Keeps or forgets what came of something typed, says why it was not taken, and returns whether
/// it was; nothing comes of it as long as nobody asked.
pub fn outcome(
    ui: &mut Ui,
    place: &str,
    typed: &[String],
    came: Option<Result<(), String>>,
) -> bool {
    let (id, typed) = (ui.scope_id().with(place), typed.join("\n"));
    let done = matches!(came, Some(Ok(())));
    match came {
        Some(Err(why)) => refuse(ui, id, typed.as_str(), why),
        Some(Ok(())) => accept(ui, id),
        None => {}
    }
    refusal(ui, id, &typed);
    done
}
