//! Files: reading, writing, importing, exporting.
