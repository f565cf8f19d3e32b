//! Numbers that are the same on every run.

/// Pairs of numbers below `total`, without end.
///
/// From a linear congruential generator (Knuth's MMIX constants, from memory: any would do).
pub(crate) fn sampled_pairs(total: usize) -> impl Iterator<Item = [usize; 2]> {
    let mut state = 1_u64;
    let mut next = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) as usize) % total
    };
    std::iter::repeat_with(move || [next(), next()])
}
