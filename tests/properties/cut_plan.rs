//! The cheapest plan of tiny jobs against trying everything, and what must hold for any job.

use proptest::prelude::*;
use std::time::Duration;
use tiltwright::shop::cut_plan::{Job, JobError, KerfRule, Part, Stock, check, plan};

const PATIENCE: Duration = Duration::from_secs(60);

fn stock() -> impl Strategy<Value = Stock> {
    (20..70_i64, 0..40_i64, prop::option::weighted(0.4, 0..4_i64)).prop_map(|(length, price, available)| Stock {
        length,
        price: Some(price),
        available,
        group: String::new(),
    })
}

fn parts(mitred: bool) -> impl Strategy<Value = Vec<Part>> {
    let ends = if mitred { 0..3_u8 } else { 0..1_u8 };
    let row = (8..45_i64, 1..4_i64, ends);
    prop::collection::vec(row, 1..5).prop_map(|mut rows| {
        // Trying everything takes too long beyond seven pieces.
        while rows.iter().map(|row| row.1).sum::<i64>() > 7 {
            rows.pop();
        }
        let part = |(row, (length, quantity, mitred_ends))| Part {
            mark: format!("P{row}"),
            length,
            quantity,
            mitred_ends,
            group: String::new(),
        };
        rows.into_iter().enumerate().map(part).collect()
    })
}

fn job(mitred: bool) -> impl Strategy<Value = Job> {
    let saw = (0..4_i64, any::<bool>(), 0..4_i64, 1..8_i64);
    (saw, prop::collection::vec(stock(), 1..4), parts(mitred)).prop_map(
        move |((kerf, every, end_trim, saving), stock, parts)| Job {
            kerf,
            kerf_rule: if every { KerfRule::Every } else { KerfRule::Between },
            end_trim,
            stock,
            parts,
            mitre_joint_saving: mitred.then_some(saving),
            ..Job::default()
        },
    )
}

/// Tries every way to put parts on boards, one part after the other. `None` when there is none.
fn by_trying_everything(job: &Job) -> Option<i64> {
    let mut pieces: Vec<usize> = Vec::new();
    for (row, part) in job.parts.iter().enumerate() {
        pieces.extend(std::iter::repeat_n(row, part.quantity as usize));
    }
    let mut best = None;
    place(job, &pieces, &mut Vec::new(), 0, &mut best);
    best
}

fn place(job: &Job, pieces: &[usize], boards: &mut Vec<(usize, Vec<usize>)>, cost: i64, best: &mut Option<i64>) {
    if best.is_some_and(|best| cost >= best) {
        return;
    }
    let Some((&piece, rest)) = pieces.split_first() else {
        // Loads are judged when all parts are laid: a mitred part can make room for another.
        if boards.iter().all(|(stock, load)| fits(job, *stock, load)) {
            *best = Some(cost);
        }
        return;
    };
    for at in 0..boards.len() {
        boards[at].1.push(piece);
        if job.mitre_joint_saving.is_some() || fits(job, boards[at].0, &boards[at].1) {
            place(job, rest, boards, cost, best);
        }
        boards[at].1.pop();
    }
    for (row, stock) in job.stock.iter().enumerate() {
        let used = boards.iter().filter(|(kind, _)| *kind == row).count() as i64;
        if stock.available.is_none_or(|most| used < most) {
            boards.push((row, vec![piece]));
            place(job, rest, boards, cost + stock.price.unwrap_or(0), best);
            boards.pop();
        }
    }
}

/// The rule as it is stated for a board with `p` parts mitred at both ends and `q` at one: `Σl + (n−1)K − s·M`, and one more kerf when the far end is cut.
fn fits(job: &Job, stock: usize, load: &[usize]) -> bool {
    let saving = job.mitre_joint_saving.unwrap_or(0);
    let ends = |n: u8| load.iter().filter(|row| saving > 0 && job.parts[**row].mitred_ends == n).count() as i64;
    let (p, q) = (ends(2), ends(1));
    let shared = if q > 0 { p + q / 2 } else { (p - 1).max(0) };
    let length: i64 = load.iter().map(|row| job.parts[*row].length).sum();
    let cuts = load.len() as i64 - if job.kerf_rule == KerfRule::Every { 0 } else { 1 };
    length + cuts * job.kerf - shared * saving <= job.stock[stock].length - job.end_trim
}

fn agrees(job: &Job) -> Result<(), TestCaseError> {
    let known = by_trying_everything(job);
    match plan(job, PATIENCE) {
        Ok(plan) => {
            prop_assert_eq!(Some(plan.cost), known);
            prop_assert!(plan.proven);
            prop_assert_eq!(check(job, &plan), Ok(()));
        }
        Err(JobError::TooLong { .. } | JobError::StockShort { .. } | JobError::NoStockInGroup { .. }) => {
            prop_assert_eq!(known, None)
        }
        Err(error) => return Err(TestCaseError::fail(error.to_string())),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn tiny_square_jobs_cost_what_trying_everything_finds(job in job(false)) {
        agrees(&job)?;
    }

    #[test]
    fn tiny_mitred_jobs_cost_what_trying_everything_finds(job in job(true)) {
        agrees(&job)?;
    }

    #[test]
    fn larger_jobs_can_be_sawn_and_never_cost_less_than_the_bound(
        stock in prop::collection::vec((200..600_i64, 1..90_i64), 1..5),
        parts in prop::collection::vec((20..190_i64, 1..9_i64), 1..14),
        kerf in 0..5_i64,
    ) {
        let board = |(length, price)| Stock { length, price: Some(price), available: None, group: String::new() };
        let part = |(row, (length, quantity)): (usize, (i64, i64))| Part {
            mark: format!("P{row}"), length, quantity, mitred_ends: 0, group: String::new(),
        };
        let job = Job {
            kerf,
            stock: stock.into_iter().map(board).collect(),
            parts: parts.into_iter().enumerate().map(part).collect(),
            ..Job::default()
        };
        let found = plan(&job, PATIENCE).expect("unlimited stock holds every part");
        prop_assert_eq!(check(&job, &found), Ok(()));
        prop_assert!(found.proven);
        // Twice every length is the same job; one more part never costs less.
        let mut doubled = job.clone();
        doubled.kerf *= 2;
        doubled.stock.iter_mut().for_each(|stock| stock.length *= 2);
        doubled.parts.iter_mut().for_each(|part| part.length *= 2);
        prop_assert_eq!(plan(&doubled, PATIENCE).expect("the same job").cost, found.cost);
        let mut more = job.clone();
        more.parts[0].quantity += 1;
        prop_assert!(plan(&more, PATIENCE).expect("one part more").cost >= found.cost);
    }
}

#[test]
fn without_prices_the_least_length_is_bought_and_proved() {
    let part =
        |length, quantity| Part { mark: format!("P{length}"), length, quantity, mitred_ends: 0, group: String::new() };
    let board = |length, price| Stock { length, price, available: None, group: String::new() };
    let job = Job {
        parts: vec![part(50, 2), part(30, 1)],
        stock: vec![board(60, None), board(100, None), board(140, None)],
        ..Job::default()
    };
    let bought = plan(&job, PATIENCE).expect("a plan");
    assert_eq!((bought.length, bought.length_bound, bought.proven), (140, 140, true));
    assert_eq!((bought.cost, bought.bars.iter().all(|bar| bar.price.is_none())), (0, true));
    // What is in the shed is no length bought.
    let in_shed = Stock { available: Some(1), ..board(100, Some(0)) };
    let shed = Job { stock: vec![in_shed, board(60, None), board(140, None)], ..job.clone() };
    assert_eq!(plan(&shed, PATIENCE).expect("a plan").length, 60);
    // A price for some boards of a group and not for others says nothing.
    let half = Job { stock: vec![board(100, Some(5)), board(60, None)], ..job };
    assert_eq!(plan(&half, PATIENCE).expect_err("half priced").field(), "stock.1.price");
}
