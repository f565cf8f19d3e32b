#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| spelk_fuzz::picture(bytes));
