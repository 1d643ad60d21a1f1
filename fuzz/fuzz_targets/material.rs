#![no_main]
libfuzzer_sys::fuzz_target!(|bytes: &[u8]| acceptance::inputs::give_one("material", bytes));
