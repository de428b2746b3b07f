//! Printed examples and closed forms: each file opens with its source.
