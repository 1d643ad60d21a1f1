//! Questions that stand above everything else.

use eframe::egui::ModalResponse;

/// Whether the person leaves a question, with Escape. A click beside it does nothing: what was
/// typed would be lost.
pub fn is_left<T>(modal: &ModalResponse<T>) -> bool {
    !modal.backdrop_response.clicked() && modal.should_close()
}
