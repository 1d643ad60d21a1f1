//! The letters of papers, pictures of labels and the window: Noto Sans, SIL Open Font
//! License 1.1, which stands beside them in `assets/fonts`.

use std::sync::LazyLock;

use packed::packed;

/// Noto Sans Regular.
pub static REGULAR: LazyLock<Vec<u8>> =
    LazyLock::new(|| packed!("fonts/NotoSans-Regular.ttf").bytes());
/// Noto Sans Bold.
pub static BOLD: LazyLock<Vec<u8>> = LazyLock::new(|| packed!("fonts/NotoSans-Bold.ttf").bytes());
/// Signs that Noto Sans lacks, out of Noto Sans Math.
pub static SYMBOLS: LazyLock<Vec<u8>> =
    LazyLock::new(|| packed!("fonts/NotoSansMath-Symbols.ttf").bytes());
