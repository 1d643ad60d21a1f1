//! Lines that go in little by little until a target is met, such as what adjusts the pH.

use super::{Event, LineState, Record};
use crate::batch::weigh_sheet::goes_in_by_portions;
use crate::formula::ItemId;

/// Why such a line is finished with less than was planned.
const ENOUGH: &str = "Enough: the target is met";

impl Record {
    /// Whether a line goes in little by little until the target is met.
    pub fn by_portions(&self, line: ItemId) -> bool {
        let mut phases = self.opening.variant().phases.iter();
        let phase = phases.find(|p| p.lines.iter().any(|l| l.id == line));
        phase.is_some_and(|p| goes_in_by_portions(p))
    }

    /// What finishes a line that goes in little by little with what was really added, be it
    /// nothing; `None` of a line that is finished or goes in at once.
    pub fn enough(&self, line: ItemId) -> Option<Event> {
        let status = self.line(line)?;
        let open = matches!(status.state, LineState::Pending | LineState::Short);
        (open && self.by_portions(line)).then(|| Event::Rescaled {
            masses: vec![(line, status.actual)],
            reason: ENOUGH.into(),
        })
    }
}
