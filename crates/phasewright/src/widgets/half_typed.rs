//! Figures that are typed and not entered yet. They are no part of the formula, for a figure may
//! be half of what it will be; so they are kept beside it against a crash, and offered again in
//! their fields, never entered by themselves.

use std::collections::BTreeMap;

use eframe::egui::{Context, Id};

/// What is told of a figure that is offered again.
pub const LEFT: &str = "This was typed and not entered when the program ended; Enter takes it";

/// A text is kept so soon after it was typed, in seconds.
const SOON_S: f32 = 3.0;

/// By the name of its field, what is typed in it.
#[derive(Clone, Default)]
struct Typing {
    /// With the frame in which the field was last seen.
    now: BTreeMap<String, (u64, String)>,
    /// What an earlier run left.
    left: BTreeMap<String, String>,
}

fn id() -> Id {
    Id::unique("half typed")
}

/// Says in each frame what is typed in a field and not entered.
pub fn note(ctx: &Context, name: &str, text: &str) {
    let frame = ctx.cumulative_frame_nr();
    let is_new = ctx.data_mut(|d| {
        let typing = d.get_temp_mut_or_default::<Typing>(id());
        let before = typing.now.insert(name.to_owned(), (frame, text.to_owned()));
        before.is_none_or(|(_, before)| before != text)
    });
    if is_new {
        ctx.request_repaint_after_secs(SOON_S);
    }
}

/// Says that nothing is typed in a field that is not entered.
pub fn forget(ctx: &Context, name: &str) {
    ctx.data_mut(|d| {
        d.get_temp_mut_or_default::<Typing>(id()).now.remove(name);
    });
}

/// What is typed in the fields that are shown, by their names.
pub fn all(ctx: &Context) -> BTreeMap<String, String> {
    let frame = ctx.cumulative_frame_nr();
    ctx.data_mut(|d| {
        let typing = d.get_temp_mut_or_default::<Typing>(id());
        typing.now.retain(|_, (seen, _)| *seen + 1 >= frame);
        let texts = typing.now.iter();
        texts
            .map(|(name, (_, text))| (name.clone(), text.clone()))
            .collect()
    })
}

/// Offers again what an earlier run left.
pub fn bring_back(ctx: &Context, left: BTreeMap<String, String>) {
    ctx.data_mut(|d| {
        d.get_temp_mut_or_default::<Typing>(id()).left.extend(left);
    });
}

/// What an earlier run left in a field, once.
pub fn left(ctx: &Context, name: &str) -> Option<String> {
    ctx.data_mut(|d| d.get_temp_mut_or_default::<Typing>(id()).left.remove(name))
}

/// Keeps what is typed in a field that is not read before a button is pressed, and puts back
/// what an earlier run left in it.
pub fn keep(ctx: &Context, name: &str, text: &mut String) {
    if text.is_empty()
        && let Some(left) = left(ctx, name)
    {
        *text = left;
    }
    if text.trim().is_empty() {
        forget(ctx, name);
    } else {
        note(ctx, name, text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_known_until_it_is_entered_and_offered_once() {
        let ctx = Context::default();
        note(&ctx, "Glycerin percent", "3.");
        let typed = BTreeMap::from([("Glycerin percent".to_owned(), "3.".to_owned())]);
        assert_eq!(all(&ctx), typed);
        forget(&ctx, "Glycerin percent");
        assert_eq!(all(&ctx), BTreeMap::new());
        bring_back(&ctx, typed);
        assert_eq!(left(&ctx, "Urea percent"), None);
        assert_eq!(left(&ctx, "Glycerin percent").as_deref(), Some("3."));
        assert_eq!(left(&ctx, "Glycerin percent"), None);
        // What stands in a field is not replaced.
        bring_back(&ctx, BTreeMap::from([("Mass".to_owned(), "7".to_owned())]));
        let mut text = "8".to_owned();
        keep(&ctx, "Mass", &mut text);
        assert_eq!(text, "8");
        text.clear();
        keep(&ctx, "Mass", &mut text);
        assert_eq!(text, "7");
        assert_eq!(all(&ctx).get("Mass").map(String::as_str), Some("7"));
    }
}
