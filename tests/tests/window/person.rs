//! A person at the window: what is done is counted.

use acceptance::window::{Look, bench, state};
use egui::{Key, Modifiers, Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::formula::Formula;
use formulation::shelf::built_in;
use phasewright::app::Bench;

/// More Tab presses than this to reach something is not reaching it.
const MOST_TABS: usize = 120;

/// A person with mouse and keyboard.
pub struct Person {
    pub harness: Harness<'static, Bench>,
    pub clicks: usize,
    pub keys: usize,
    pub texts: usize,
}

impl Person {
    /// Before the start card of a new formula.
    pub fn at_a_new_formula(look: Look) -> Self {
        Self::with(look, Formula::new("New formula"))
    }
    /// Before a formula.
    pub fn with(look: Look, formula: Formula) -> Self {
        let mut state = state(built_in().clone(), formula);
        state.settings.hints_closed = true;
        let mut harness = bench(look, state);
        harness.run();
        Self {
            harness,
            clicks: 0,
            keys: 0,
            texts: 0,
        }
    }
    pub fn click(&mut self, role: Role, name: &str) {
        self.harness.get_by_role_and_label(role, name).click();
        self.clicks += 1;
        self.harness.run();
    }
    pub fn press(&mut self, key: Key) {
        self.press_with(Modifiers::NONE, key);
    }
    pub fn press_with(&mut self, modifiers: Modifiers, key: Key) {
        if modifiers.is_none() {
            self.harness.key_press(key);
        } else {
            self.harness.key_press_modifiers(modifiers, key);
        }
        self.keys += 1;
        self.harness.run();
    }
    /// Types where the cursor is.
    pub fn types(&mut self, text: &str) {
        self.harness
            .get_all_by_role(Role::TextInput)
            .find(egui_kittest::Node::is_focused)
            .unwrap_or_else(|| panic!("no field has the cursor for “{text}”"))
            .type_text(text);
        self.texts += 1;
        self.harness.run();
    }
    pub fn formula(&self) -> &Formula {
        self.harness.state().state().current().formula()
    }
    /// Role and name of what has the cursor; nothing is an answer too.
    pub fn focus(&self) -> Option<(Role, String)> {
        let root = self.harness.root();
        let node = root
            .children_recursive()
            .find(egui_kittest::Node::is_focused)?;
        let node = node.accesskit_node();
        Some((node.role(), node.label().unwrap_or_default()))
    }
    /// The name of what has the cursor.
    pub fn focused(&self) -> String {
        self.focus().map(|(_, name)| name).unwrap_or_default()
    }
    /// Presses a key until what begins with a name has the cursor.
    pub fn press_until(&mut self, modifiers: Modifiers, key: Key, name: &str) {
        let mut passed = Vec::new();
        for _ in 0..MOST_TABS {
            self.press_with(modifiers, key);
            let now = self.focused();
            if now.starts_with(name) {
                return;
            }
            passed.push(now);
        }
        panic!("“{name}” is not reached with {key:?}; passed {passed:?}");
    }
    /// Goes to something with the Tab key.
    pub fn tab_to(&mut self, name: &str) {
        self.press_until(Modifiers::NONE, Key::Tab, name);
    }
}
