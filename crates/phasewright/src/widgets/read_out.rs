//! What a screen reader says by itself, without the cursor being there.

use eframe::egui::Response;
use eframe::egui::accesskit::Live;

/// Lets a screen reader say these words as they come up, after what it is saying.
pub fn read_out(words: &Response) {
    words
        .ctx
        .accesskit_node_builder(words.id, |node| node.set_live(Live::Polite));
}
