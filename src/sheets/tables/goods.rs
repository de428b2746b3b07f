//! Hardware: what is bought by the piece.

use crate::{
    sheets::table::{Table, figures, words},
    shop::{
        HardwareLine, Total, caveat,
        cut_plan::{Money, amount},
    },
};

/// The hardware of all frames; where any of it has a price, with the price of one and of the line.
///
/// What is cut from sticks or bought by the block has the price of one stick or block, and the note says how many.
pub(crate) fn hardware(lines: &[HardwareLine], money: Money) -> Table {
    let show = |cents: i64| amount(cents, money);
    let columns = [figures("Number"), words("Item"), words("Size")];
    let prices = priced(lines).then_some([figures("Price of one"), figures("Together")]);
    let row = |line: &HardwareLine| {
        let first = [line.quantity.to_string(), line.item.clone(), line.size.clone()];
        with_prices(first, prices_of(line, show).filter(|_| prices.is_some()), line.note.clone())
    };
    Table::new(with_prices(columns, prices.clone(), words("Note"))).with(lines.iter().map(row))
}

/// The same for a spreadsheet, and where prices are given with their sum.
pub(crate) fn hardware_records(lines: &[HardwareLine], total: Option<&Total>, money: Money) -> Table {
    // A column of numbers: their currency stands in its head.
    let figure = |cents: i64| amount(cents, Money::Cent);
    let sum = total.and_then(|total| Some((total.hardware?, &total.hardware_without)));
    let head = |name: &str| match money {
        Money::Named(currency) => figures(format!("{name}_{currency}")),
        _ => figures(name),
    };
    let prices = sum.map(|_| ["price_each", "price"].map(head));
    let columns = with_prices([words("item"), words("size"), figures("quantity")], prices, words("note"));
    let row = |line: &HardwareLine| {
        let first = [line.item.clone(), line.size.clone(), line.quantity.to_string()];
        with_prices(first, prices_of(line, figure).filter(|_| sum.is_some()), line.note.clone())
    };
    let mut table = Table::new(columns).with(lines.iter().map(row));
    if let Some((sum, without)) = sum {
        let blank = String::new;
        table.row(["hardware together".to_string(), blank(), blank(), blank(), figure(sum), caveat(without)]);
    }
    table
}

fn priced(lines: &[HardwareLine]) -> bool {
    lines.iter().any(|line| line.bought.is_some())
}

/// Price of one and of all, empty where the line has none.
fn prices_of(line: &HardwareLine, show: impl Fn(i64) -> String) -> Option<[String; 2]> {
    Some(line.bought.map_or_else(Default::default, |bought| [bought.each, bought.cents()].map(show)))
}

fn with_prices<T>(first: [T; 3], prices: Option<[T; 2]>, last: T) -> Vec<T> {
    first.into_iter().chain(prices.into_iter().flatten()).chain([last]).collect()
}
