//! Why what was typed was not taken: it stands beside its field and goes when the text there is
//! changed, or taken.

use eframe::egui::accesskit::Invalid;
use eframe::egui::{self, Area, Frame, Id, Order, Response, Ui};
use formulation::finding::Level;
use formulation::plain_words::sentence;

use super::entry::Entry;
use super::half_typed;
use super::level_mark::level_mark;
use super::read_out::read_out;

/// What was typed and not taken, and why.
#[derive(Clone)]
struct Refused {
    typed: String,
    why: String,
    /// What stands in its place.
    stands: String,
}

/// Keeps why something typed was not taken; `id` is that of the field, or of fields together.
pub fn refuse(ctx: &egui::Context, id: Id, typed: impl Into<String>, why: impl Into<String>) {
    let refused = Refused {
        typed: typed.into(),
        why: sentence(&why.into()),
        stands: String::new(),
    };
    keep(ctx, id, refused);
}

fn keep(ctx: &egui::Context, id: Id, refused: Refused) {
    ctx.data_mut(|d| d.insert_temp(id, refused));
    ctx.request_repaint();
}

/// What became of a field whose text is read.
pub struct FieldState<T> {
    /// The field.
    pub response: Response,
    /// What was typed, read, if it differs from what stood there.
    pub read: Option<T>,
    /// Enter was pressed, and what is typed was taken.
    pub entered: bool,
}

/// A field whose text is read when one is done with it. What cannot be read stays in it, to be
/// mended, with the reason below it; Escape, or another value, takes it back.
pub fn figure<T, E: ToString>(
    ui: &mut Ui,
    entry: Entry<'_>,
    read: impl FnOnce(&str) -> Result<T, E>,
) -> FieldState<T> {
    let place = entry.id().with("refused");
    let stands = entry.shown().to_owned();
    let kept = ui.data(|d| d.get_temp::<Refused>(place));
    let kept = kept.filter(|refused| refused.stands == stands);
    let left = half_typed::left(ui, entry.name());
    let kept = kept.or_else(|| {
        let left = Refused {
            typed: left?,
            why: half_typed::LEFT.to_owned(),
            stands: stands.clone(),
        };
        keep(ui, place, left.clone());
        Some(left)
    });
    let is_kept = kept.is_some();
    let shown = kept.map_or_else(|| stands.clone(), |refused| refused.typed);
    let answer = entry.showing(&shown).show(ui);
    // Enter asks again for what stays in the field.
    let again = (is_kept && answer.entered).then(|| shown.clone());
    let mut value = None;
    // Escape gives up what was not taken, in a field of words as well.
    let given_up = is_kept
        && answer.response.lost_focus()
        && ui.input(|input| input.key_pressed(egui::Key::Escape));
    match answer.done.or(again) {
        None if answer.taken_back || given_up => accept(ui, place),
        None => {}
        Some(text) if text == stands => accept(ui, place),
        Some(text) => match read(&text) {
            Ok(read) => {
                accept(ui, place);
                value = Some(read);
            }
            Err(why) => {
                let why = sentence(&why.to_string());
                let typed = text;
                keep(
                    ui,
                    place,
                    Refused {
                        typed,
                        why,
                        stands: stands.clone(),
                    },
                );
            }
        },
    }
    let refused = ui.data(|d| d.get_temp::<Refused>(place));
    let refused = refused.filter(|refused| refused.stands == stands);
    if let Some(refused) = &refused {
        below(ui, &answer.response, place, &refused.why);
    }
    FieldState {
        response: answer.response,
        read: value,
        entered: answer.entered && refused.is_none(),
    }
}

/// Says below a field why what is typed there was not taken, over what stands there, so that
/// nothing moves.
fn below(ui: &Ui, field: &Response, place: Id, why: &str) {
    /// Widest it becomes, in points.
    const WIDTH: f32 = 280.0;
    ui.accesskit_node_builder(field.id, |node| {
        node.set_invalid(Invalid::True);
        node.set_description(why);
    });
    if !ui.is_rect_visible(field.rect) {
        return;
    }
    Area::new(place)
        .order(Order::Tooltip)
        .fixed_pos(field.rect.left_bottom() + egui::vec2(0.0, 2.0))
        .constrain(true)
        .interactable(false)
        .fade_in(false)
        .show(ui, |ui| {
            Frame::popup(ui.style()).show(ui, |ui| {
                ui.set_max_width(WIDTH);
                said(ui, why);
            });
        });
}

/// The reason, which a screen reader tells without being asked.
fn said(ui: &mut Ui, why: &str) {
    ui.horizontal_top(|ui| {
        level_mark(ui, Level::Caution);
        let said = ui.add(egui::Label::new(why).wrap());
        read_out(&said);
    });
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
    said(ui, &refused.why);
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
