//! Points and vectors in three dimensions.

/// A point or vector (mm) or (–).
pub type At = [f64; 3];

/// a + b.
#[must_use]
pub fn plus(a: At, b: At) -> At {
    std::array::from_fn(|i| a[i] + b[i])
}

/// a − b.
#[must_use]
pub fn minus(a: At, b: At) -> At {
    std::array::from_fn(|i| a[i] - b[i])
}

/// s · a.
#[must_use]
pub fn scaled(a: At, s: f64) -> At {
    a.map(|v| v * s)
}

/// a · b.
#[must_use]
pub fn dot(a: At, b: At) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// a × b.
#[must_use]
pub fn cross(a: At, b: At) -> At {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// Length.
#[must_use]
pub fn length(a: At) -> f64 {
    dot(a, a).sqrt()
}
