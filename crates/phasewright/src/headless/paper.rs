//! The paper of what is printed.

use clap::ValueEnum;
use formulation::batch::workshop::Paper;
use formulation::file::pdf::Printing;

/// Size of the paper.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub enum PaperArg {
    /// A4.
    #[default]
    A4,
    /// US Letter.
    Letter,
}

impl From<PaperArg> for Printing<'_> {
    fn from(paper: PaperArg) -> Self {
        Paper::from(paper).into()
    }
}

impl From<PaperArg> for Paper {
    fn from(paper: PaperArg) -> Self {
        match paper {
            PaperArg::A4 => Self::A4,
            PaperArg::Letter => Self::UsLetter,
        }
    }
}
