//! The design used when none is named.

/// Its name in messages.
pub const BUILTIN_NAME: &str = "built-in design";

/// Its text, the same as the file in `designs/`.
pub const BUILTIN_TEXT: &str = include_str!("../../designs/sample.yaml");
