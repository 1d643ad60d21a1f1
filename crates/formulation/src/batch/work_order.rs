//! What a batch still asks for, one thing after the other, in working order.

use super::record::{LineState, LineStatus, Record};
use crate::formula::{Line, Phase, Step};

/// One thing of a batch: a line to weigh or a step to work.
#[derive(Clone, PartialEq, Debug)]
pub enum Task<'r> {
    /// Weigh a line.
    Weigh {
        /// Its phase.
        phase: &'r Phase,
        /// The line.
        line: &'r Line,
        /// How it stands.
        status: LineStatus,
    },
    /// Work a step.
    Work {
        /// Its phase.
        phase: &'r Phase,
        /// The step.
        step: &'r Step,
        /// Whether it has been recorded.
        done: bool,
    },
}

impl<'r> Task<'r> {
    /// The phase it belongs to.
    pub const fn phase(&self) -> &'r Phase {
        match self {
            Self::Weigh { phase, .. } | Self::Work { phase, .. } => phase,
        }
    }

    /// Whether nothing is left to do; a line weighed short is not done.
    pub fn is_done(&self) -> bool {
        match self {
            Self::Weigh { status, .. } => {
                matches!(status.state, LineState::Within | LineState::Over)
            }
            Self::Work { done, .. } => *done,
        }
    }
}

/// Everything the batch asks for: phase by phase, first its lines, then its steps.
pub fn tasks(record: &Record) -> Vec<Task<'_>> {
    let mut tasks = Vec::new();
    for phase in &record.opening().variant().phases {
        let phase: &Phase = phase;
        tasks.extend(phase.lines.iter().filter_map(|line| {
            Some(Task::Weigh {
                phase,
                line,
                status: record.line(line.id)?,
            })
        }));
        tasks.extend(phase.steps.iter().map(|step| Task::Work {
            phase,
            step,
            done: record.worked(step.id),
        }));
    }
    tasks
}

#[cfg(test)]
mod tests {
    use super::super::record::tests::{add, opening, record, weigh};
    use super::*;

    #[test]
    fn the_next_task_is_the_first_that_is_not_done() {
        let mut batch = record(opening("26-001"));
        let next = |record: &Record| {
            tasks(record).into_iter().find_map(|t| match t {
                Task::Weigh { line, .. } if !t.is_done() => Some(line.id.0),
                _ => None,
            })
        };
        assert_eq!(next(&batch), Some(10));
        add(&mut batch, weigh(10, "500 g", "W1")).unwrap();
        assert_eq!(next(&batch), Some(10), "weighed short");
        add(&mut batch, weigh(10, "300 g", "W1")).unwrap();
        assert_eq!(next(&batch), Some(11));
        add(&mut batch, weigh(11, "200 g", "G1")).unwrap();
        assert_eq!(next(&batch), None);
    }
}
