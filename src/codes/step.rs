//! A short way to offer an equation to whoever listens.

/// Offers one evaluated equation to a trace: the names of the Rust variables are the symbols of the formula.
///
/// `step!(trace, "what", value ["unit"] = "formula", { term ["unit"], … }, SOURCE)`; the closure inside runs only if
/// somebody listens.
macro_rules! step {
    ($trace:expr, $what:expr, $value:ident [$unit:expr] = $formula:expr, { $($term:ident [$term_unit:expr]),* $(,)? }, $source:expr) => {
        $trace.step(|| $crate::catalogue::Step {
            what: $what,
            symbol: stringify!($value),
            formula: $formula,
            terms: vec![$($crate::catalogue::term(stringify!($term), $term, $term_unit)),*],
            value: $value,
            unit: $unit,
            source: $source,
        })
    };
}
