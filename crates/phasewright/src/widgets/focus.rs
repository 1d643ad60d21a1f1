//! Where the keyboard is: regions of the window that F6 goes through, and a place to come
//! back to when what had the cursor is gone.
//!
//! A region is a part of a sheet with a name. F6 goes to where one last was in the next
//! region, or to the region itself, which then has a frame; Tab goes on from there, and the
//! arrows and Page keys scroll it, for it may hold nothing but words. When
//! what has the cursor disappears, a menu that closes for example, the cursor goes back to
//! where it was before; Tab without a cursor goes on from there as well.

use std::collections::BTreeMap;

use eframe::egui::output::OutputEvent;
use eframe::egui::{
    self, Align, Context, Event, EventFilter, Id, Key, Modifiers, Order, Popup, Rect, Response,
    Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
};

use crate::theme;
use crate::widgets::follow_focus::is_cut;

/// A region drawn in a frame.
#[derive(Clone, Copy)]
struct Place {
    name: &'static str,
    anchor: Id,
    rect: Rect,
    /// Above every sheet and part of none.
    is_bar: bool,
}

/// What is kept between frames.
#[derive(Clone, Default)]
struct Regions {
    /// Regions of this frame, in the order of reading.
    places: Vec<Place>,
    /// Where the cursor was last in each region.
    last: BTreeMap<&'static str, Id>,
    /// What had the cursor last, below all menus and dialogs, and its region.
    home: Option<(Id, Option<&'static str>)>,
    /// Another sheet is shown, and nothing in it has had the cursor yet.
    arrived: bool,
    /// It has not been drawn yet, so what had the cursor may be gone without being missed.
    arriving: bool,
    /// What had the cursor at the end of the last frame, and whether it was a field with words
    /// below all menus and dialogs, which Escape leaves.
    had: Option<(Id, bool)>,
    /// What has the cursor, and for how many frames.
    since: (Option<Id>, u8),
    /// The last thing that was done was done with a key, not with the pointer.
    by_key: bool,
}

fn kept() -> Id {
    Id::unique("regions")
}

fn with<R>(ctx: &Context, run: impl FnOnce(&mut Regions) -> R) -> R {
    let mut regions: Regions = ctx.data(|d| d.get_temp(kept())).unwrap_or_default();
    let answer = run(&mut regions);
    ctx.data_mut(|d| d.insert_temp(kept(), regions));
    answer
}

/// The place, among all regions, of the first one of the sheet: menus and other bars come
/// before it.
fn first_of_sheet(places: &[Place]) -> Option<usize> {
    let of_sheet = places.iter().position(|p| !p.is_bar);
    of_sheet.or_else(|| places.len().checked_sub(1))
}

/// Keys with which one goes on from what has the cursor.
const LEAVING: [Key; 6] = [
    Key::Tab,
    Key::Escape,
    Key::ArrowUp,
    Key::ArrowDown,
    Key::ArrowLeft,
    Key::ArrowRight,
];
/// Room between a region and the frame around it, in points.
const AROUND: f32 = 6.0;

/// Draws a region of a sheet, or of what stands below it.
pub fn region<R>(ui: &mut Ui, name: &'static str, add: impl FnOnce(&mut Ui) -> R) -> R {
    drawn(ui, name, false, add)
}

/// Draws a region of the window that stands above every sheet: whoever comes to a sheet goes on
/// below it.
pub fn bar<R>(ui: &mut Ui, name: &'static str, add: impl FnOnce(&mut Ui) -> R) -> R {
    drawn(ui, name, true, add)
}

fn drawn<R>(ui: &mut Ui, name: &'static str, is_bar: bool, add: impl FnOnce(&mut Ui) -> R) -> R {
    let anchor = Id::unique(("region", name));
    let focused = ui.memory(|m| m.has_focus(anchor));
    if focused {
        // Only then it is a stop of the Tab key.
        let at = Rect::from_min_size(ui.cursor().min, Vec2::ZERO);
        let response = ui.interact(at, anchor, Sense::focusable_noninteractive());
        response.widget_info(|| WidgetInfo::labeled(Role::Group, true, name));
        if response.gained_focus() {
            response.scroll_to_me(Some(Align::TOP));
        }
        scroll_by_keys(ui, anchor);
    }
    let shown = ui.scope(|ui| (ui.unique_id(), add(ui)));
    let rect = shown.response.rect;
    let (id, inner) = shown.inner;
    ui.accesskit_node_builder(id, |node| {
        node.set_role(Role::Group);
        node.set_label(name);
        node.set_bounds(egui::accesskit::Rect {
            x0: rect.left().into(),
            y0: rect.top().into(),
            x1: rect.right().into(),
            y1: rect.bottom().into(),
        });
    });
    if focused {
        let ring = Stroke::new(2.0, theme::palette(ui).accent);
        // Outside of the region, so that it crosses nothing in it.
        let around = rect.expand(AROUND);
        let around = around.intersect(ui.clip_rect().expand(AROUND));
        ui.layer_painter(ui.layer_id())
            .with_clip_rect(around)
            .rect_stroke(around, 4.0, ring, StrokeKind::Inside);
    }
    let place = Place {
        name,
        anchor,
        rect,
        is_bar,
    };
    with(ui, |regions| regions.places.push(place));
    inner
}

/// Points that an arrow key scrolls by.
const LINE: f32 = 40.0;
/// Points further than any sheet is high.
const ALL: f32 = 1e6;

/// Scrolls what comes next in a region that has the cursor itself.
fn scroll_by_keys(ui: &Ui, anchor: Id) {
    let arrows = EventFilter {
        vertical_arrows: true,
        ..EventFilter::default()
    };
    ui.memory_mut(|m| m.set_focus_lock_filter(anchor, arrows));
    // A little of what was seen stays in sight.
    let page = (ui.available_height() - LINE).max(LINE);
    let steps = [
        (Key::ArrowDown, -LINE),
        (Key::ArrowUp, LINE),
        (Key::PageDown, -page),
        (Key::PageUp, page),
        (Key::End, -ALL),
        (Key::Home, ALL),
    ];
    let by: f32 = ui.input_mut(|input| {
        let mut by = 0.0;
        for (key, step) in steps {
            for _ in 0..input.count_and_consume_key(Modifiers::NONE, key) {
                by += step;
            }
        }
        by
    });
    if by != 0.0 {
        ui.scroll_with_delta(Vec2::new(0.0, by));
    }
}

/// Another sheet is shown: what has no cursor any more goes on in its first region, and so does
/// who left it in a bar above the sheets and came by a shortcut.
pub fn arrive(ctx: &Context) {
    let by_shortcut = ctx.input(|i| i.modifiers.command);
    let from_bar = with(ctx, |regions| {
        let home = regions.home.take();
        regions.arrived = true;
        regions.arriving = true;
        let is_bar = |name| regions.places.iter().any(|p| p.is_bar && p.name == name);
        home.filter(|(_, region)| by_shortcut && region.is_some_and(is_bar))
    });
    if let Some((id, _)) = from_bar {
        ctx.memory_mut(|m| m.surrender_focus(id));
    }
}

/// The region with the cursor, or that had it last below a menu or window; none where nothing
/// has the cursor.
pub fn region_with_cursor(ctx: &Context) -> Option<&'static str> {
    ctx.memory(egui::Memory::focused)?;
    with(ctx, |regions| regions.home.and_then(|(_, region)| region))
}

/// Whether the last thing that was done was done with a key, not with the pointer.
pub fn is_by_key(ctx: &Context) -> bool {
    with(ctx, |regions| regions.by_key)
}

/// Gives a region the cursor that just opened, if it was opened with a key.
pub fn enter(ctx: &Context, name: &'static str) {
    if is_by_key(ctx) {
        let anchor = Id::unique(("region", name));
        ctx.memory_mut(|m| m.request_focus(anchor));
    }
}

/// Before a frame is drawn: F6 and Shift+F6, and the way back when what had the cursor is
/// gone. With a dialog open, nothing but the dialog has the cursor.
pub fn begin(ctx: &Context, dialog: bool) {
    let (forward, back) = ctx.input_mut(|i| {
        let back = i.consume_key(Modifiers::SHIFT, Key::F6);
        (i.consume_key(Modifiers::NONE, Key::F6), back)
    });
    let focused = ctx.memory(egui::Memory::focused);
    let (tab, escape, press, key) = ctx.input(|i| {
        let key = |e: &Event| matches!(e, Event::Key { pressed: true, .. });
        (
            i.key_pressed(Key::Tab),
            i.key_pressed(Key::Escape),
            i.pointer.any_pressed(),
            i.events.iter().any(key),
        )
    });
    // Words that stand where a button stood may have its identity, but take no cursor.
    let there = |id: Id| {
        ctx.read_response(id)
            .is_some_and(|r| r.sense.is_focusable())
    };
    let wanted = with(ctx, |regions| {
        let places = std::mem::take(&mut regions.places);
        if key || press {
            regions.by_key = key && !press;
        }
        if dialog {
            return None;
        }
        if forward || back {
            return regions.next(&places, forward).map(|place| {
                let last = regions.last.get(place.name).copied();
                last.filter(|id| there(*id)).unwrap_or(place.anchor)
            });
        }
        if focused.is_some() {
            return None;
        }
        // Words in a field are left by Escape, and a press elsewhere leaves everything.
        let lost = match regions.had.take() {
            Some((_, field)) => regions.by_key && !(escape && field),
            None => false,
        };
        if !lost && !tab {
            return None;
        }
        if regions.arrived {
            return first_of_sheet(&places).map(|place| places[place].anchor);
        }
        let (home, region) = regions.home?;
        if there(home) {
            return Some(home);
        }
        let place = places.iter().find(|p| Some(p.name) == region);
        // Where the region is gone as well, one goes on at the top of the sheet.
        let place = place.or_else(|| places.get(first_of_sheet(&places)?))?;
        Some(place.anchor)
    });
    if let Some(id) = wanted {
        ctx.memory_mut(|m| m.request_focus(id));
        ctx.request_repaint();
    }
    bring_into_sight(ctx);
}

/// Frames after which an area that does not follow the cursor by itself is asked to, and
/// after which nothing more is tried.
const ASKED: std::ops::RangeInclusive<u8> = 2..=4;

/// Asks the area around what has the cursor to scroll to it, as an assistive program would.
fn bring_into_sight(ctx: &Context) {
    use egui::accesskit::{Action, ActionRequest, TreeId};
    let focused = ctx.memory(egui::Memory::focused);
    let frames = with(ctx, |regions| {
        let (last, frames) = regions.since;
        let frames = if last == focused {
            frames.saturating_add(1)
        } else {
            0
        };
        regions.since = (focused, frames);
        frames
    });
    let Some(response) = focused.and_then(|id| ctx.read_response(id)) else {
        return;
    };
    if frames > *ASKED.end() || !is_cut(response.rect, response.interact_rect) {
        return;
    }
    if ASKED.contains(&frames) {
        let request = ActionRequest {
            action: Action::ScrollIntoView,
            target_tree: TreeId::ROOT,
            target_node: response.id.accesskit_id(),
            data: None,
        };
        ctx.input_mut(|i| i.events.push(Event::AccessKitActionRequest(request)));
    }
    ctx.request_repaint();
}

/// What is chosen with a key in a list that opened closes it, as a click does.
fn close_what_was_chosen_in(ctx: &Context) {
    let by_key = ctx.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Space));
    let chosen = |event: &OutputEvent| match event {
        OutputEvent::Clicked(info) => {
            info.selected.is_some() && !matches!(info.role, Role::CheckBox | Role::RadioButton)
        }
        _ => false,
    };
    if by_key && ctx.output(|output| output.events.iter().any(chosen)) {
        Popup::close_all(ctx);
    }
}

/// After a frame was drawn: frames what has the cursor, and remembers it.
pub fn end(ctx: &Context) {
    close_what_was_chosen_in(ctx);
    let focused = ctx.memory(egui::Memory::focused);
    let response = focused.and_then(|id| ctx.read_response(id));
    if let Some(response) = &response
        && is_by_key(ctx)
    {
        frame(ctx, response);
    }
    let typing = ctx.text_edit_focused();
    // What had the cursor may lose it otherwise: a field in which Enter is pressed, a button whose
    // place words have taken. It comes back then, to it or to where it was.
    let is_left =
        ctx.input(|i| i.pointer.any_pressed() || LEAVING.iter().any(|key| i.key_pressed(*key)));
    with(ctx, |regions| {
        if std::mem::take(&mut regions.arriving) {
            return;
        }
        let (Some(id), Some(response)) = (focused, response) else {
            if focused.is_none() && is_left {
                regions.had = None;
            }
            return;
        };
        let below = response.layer_id.order == Order::Background;
        regions.had = Some((id, below && typing));
        if !below {
            return;
        }
        regions.arrived = false;
        // What is not scrolled to yet lies where another region is; it will come into sight.
        let anchor = regions.places.iter().find(|p| p.anchor == id).copied();
        let seen = response.interact_rect;
        if anchor.is_none() && !seen.is_positive() {
            let region = regions.home.and_then(|(_, region)| region);
            regions.home = Some((id, region));
            return;
        }
        let place = anchor.or_else(|| regions.at(seen));
        regions.home = Some((id, place.map(|p| p.name)));
        if let Some(place) = place.filter(|p| p.anchor != id) {
            regions.last.insert(place.name, id);
        }
    });
}

/// Draws a frame around what has the cursor, whatever it looks like itself. Whoever works with
/// the pointer knows where it is, and is not bothered with it.
fn frame(ctx: &Context, response: &Response) {
    let seen = response.interact_rect;
    if !seen.is_positive() {
        return;
    }
    let ring = Stroke::new(2.0, theme::Palette::of(ctx.theme()).accent);
    ctx.layer_painter(response.layer_id)
        .with_clip_rect(seen.expand(3.0))
        .rect_stroke(response.rect.expand(1.0), 4.0, ring, StrokeKind::Outside);
}

impl Regions {
    /// The smallest region around a rectangle.
    fn at(&self, rect: Rect) -> Option<Place> {
        in_places(&self.places, rect)
    }

    /// The region after, or before, the one with the cursor.
    fn next(&self, places: &[Place], forward: bool) -> Option<Place> {
        let now = self
            .home
            .and_then(|(_, region)| places.iter().position(|p| Some(p.name) == region));
        let count = places.len();
        let next = match (now, forward) {
            (None, true) if self.arrived => first_of_sheet(places)?,
            (None, true) => 0,
            (None, false) => count.checked_sub(1)?,
            (Some(now), true) => (now + 1) % count,
            (Some(now), false) => (now + count - 1) % count,
        };
        places.get(next).copied()
    }
}

fn in_places(places: &[Place], rect: Rect) -> Option<Place> {
    places
        .iter()
        .filter(|p| p.rect.expand(2.0).contains(rect.center()))
        .min_by(|a, b| a.rect.area().total_cmp(&b.rect.area()))
        .copied()
}
