//! Reads a written sheet back: what a ruler would find on the paper.

use roxmltree::{Document, Node};

/// A point on the page [mm].
pub(crate) type At = (f64, f64);

/// Parses a sheet; any fault in the XML is a failed test.
pub(crate) fn parse(svg: &str) -> Document<'_> {
    Document::parse(svg).expect("the sheet is well-formed XML")
}

/// A number from an attribute.
pub(crate) fn number(node: Node, name: &str) -> f64 {
    node.attribute(name).and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("{name} of {node:?} is a number"))
}

/// All groups of a class.
pub(crate) fn groups<'d>(document: &'d Document, class: &str) -> Vec<Node<'d, 'd>> {
    document.descendants().filter(|node| node.attribute("class") == Some(class)).collect()
}

/// Centres and radii of all circles inside a node.
pub(crate) fn circles(node: Node) -> Vec<(At, f64)> {
    let circles = node.descendants().filter(|inner| inner.has_tag_name("circle"));
    circles.map(|circle| ((number(circle, "cx"), number(circle, "cy")), number(circle, "r"))).collect()
}

/// Both ends of all straight lines inside a node.
pub(crate) fn lines(node: Node) -> Vec<(At, At)> {
    let lines = node.descendants().filter(|inner| inner.has_tag_name("line"));
    lines.map(|line| ((number(line, "x1"), number(line, "y1")), (number(line, "x2"), number(line, "y2")))).collect()
}

/// All words on the sheet, in drawing order.
pub(crate) fn words(document: &Document) -> Vec<String> {
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    texts.map(|text| text.text().unwrap_or_default().to_string()).collect()
}
