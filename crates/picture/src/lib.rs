//! CPU pictures of egui meshes.
