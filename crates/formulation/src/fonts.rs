//! The letters of papers, pictures of labels and the window: Noto Sans, SIL Open Font
//! License 1.1, which stands beside them in `assets/fonts`.

/// Noto Sans Regular.
pub static REGULAR: &[u8] = include_bytes!("../../../assets/fonts/NotoSans-Regular.ttf");
/// Noto Sans Bold.
pub static BOLD: &[u8] = include_bytes!("../../../assets/fonts/NotoSans-Bold.ttf");
/// Signs that Noto Sans lacks, out of Noto Sans Math.
pub static SYMBOLS: &[u8] = include_bytes!("../../../assets/fonts/NotoSansMath-Symbols.ttf");
