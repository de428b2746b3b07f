//! The design used when none is named.

/// Its name in messages.
pub const BUILTIN_NAME: &str = "built-in design";

/// Its text, the same as the file in `designs/`.
pub const BUILTIN_TEXT: &str = include_str!("../../designs/sample.yaml");

/// Ready designs by name, one per support kind and material: what `new` copies.
pub const READY: [(&str, &str); 10] = [
    ("sample", BUILTIN_TEXT),
    ("aluminium-deck", include_str!("../../designs/aluminium-deck.yaml")),
    ("landscape-purlins", include_str!("../../designs/landscape-purlins.yaml")),
    ("lapped-double", include_str!("../../designs/lapped-double.yaml")),
    ("posts-outside", include_str!("../../designs/posts-outside.yaml")),
    ("runners-ground", include_str!("../../designs/runners-ground.yaml")),
    ("runners-roof", include_str!("../../designs/runners-roof.yaml")),
    ("steel-frame", include_str!("../../designs/steel-frame.yaml")),
    ("steel-stays", include_str!("../../designs/steel-stays.yaml")),
    ("two-frames", include_str!("../../designs/two-frames.yaml")),
];
