//! Words of a design file that stand for one of a few things.

use serde::Deserialize;

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum EdgeSupport {
    Allowed,
    Forbidden,
}

/// How a panel stands in the array.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    /// Long side up the slope.
    Portrait,
    /// Long side across.
    Landscape,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SeatingWord {
    Lapped,
    Inset,
    OnPurlins,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SupportWord {
    Posts,
    Runners,
    Pole,
}

/// Where the posts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Placement {
    /// In slots between built-up mullions.
    Inside,
    /// Outboard of the outer stiles.
    Outside,
}

/// What the runners lie on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ground {
    /// Soil, with stakes or ballast.
    Ground,
    /// A roof, with brackets.
    Roof,
    /// A trailer bed or deck.
    Deck,
}
