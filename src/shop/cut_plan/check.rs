//! Is this plan one that can be sawn? Worked out again from the job as it was given, without the search's numbers.

use super::{
    job::{Job, KerfRule},
    plan::{Bar, Cut, Plan},
};

/// Checks a plan against its job: every part once, from stock of its group, no overlap, every cut as wide as the saw, shared cuts only
/// where two mitred ends lie parallel, no board used that is not there, and the sums.
///
/// # Errors
/// One sentence that names the board and what is wrong.
pub fn check(job: &Job, plan: &Plan) -> Result<(), String> {
    for (row, part) in job.parts.iter().enumerate() {
        let cut = plan.bars.iter().flat_map(|bar| &bar.cuts).filter(|cut| cut.part == row).count() as i64;
        require(cut == part.quantity, || {
            format!("part {} is cut {cut} times and wanted {} times", part.mark, part.quantity)
        })?;
    }
    for (row, stock) in job.stock.iter().enumerate() {
        let used = plan.bars.iter().filter(|bar| bar.stock == row).count() as i64;
        let most = stock.available.unwrap_or(i64::MAX);
        require(used <= most, || format!("stock row {} is used {used} times and there are {most}", row + 1))?;
    }
    for (number, bar) in plan.bars.iter().enumerate() {
        check_bar(job, bar).map_err(|what| format!("board {}: {what}", number + 1))?;
    }
    let cost: i64 = plan.bars.iter().filter_map(|bar| bar.price).sum();
    require(cost == plan.cost, || format!("the boards cost {cost}, not {}", plan.cost))?;
    require(plan.bound <= plan.cost, || format!("the bound {} is above the cost {}", plan.bound, plan.cost))?;
    let length: i64 = plan.bars.iter().filter(|bar| bar.price.is_none()).map(|bar| bar.stock_length).sum();
    require(length == plan.length, || format!("the boards without a price measure {length}, not {}", plan.length))?;
    require(plan.length_bound <= plan.length, || {
        format!("the bound {} is above the length {}", plan.length_bound, plan.length)
    })?;
    require(plan.proven == (plan.bound == plan.cost && plan.length_bound == plan.length), || {
        "proven does not say whether the bounds are met".to_string()
    })
}

fn check_bar(job: &Job, bar: &Bar) -> Result<(), String> {
    let stock = job.stock.get(bar.stock).ok_or("it is of no stock row")?;
    let as_listed = (bar.stock_length, bar.price, &bar.group) == (stock.length, stock.price, &stock.group);
    require(as_listed, || "it is not what the stock row says".to_string())?;
    require(!bar.cuts.is_empty(), || "nothing is cut from it".to_string())?;
    for cut in &bar.cuts {
        let part = job.parts.get(cut.part).ok_or("a cut is of no part row")?;
        let same = (part.length, part.mitred_ends, &part.mark) == (cut.length, cut.mitred_ends, &cut.mark);
        require(same, || format!("part {} is not cut as its row says", cut.mark))?;
        require(part.group == bar.group, || format!("part {} comes from stock of another group", cut.mark))?;
        require(cut.to - cut.from == cut.length, || {
            format!("the marks of part {} are not its length apart", cut.mark)
        })?;
    }
    let first = &bar.cuts[0];
    require(first.from >= 0 && !first.shares_cut, || "the first part begins off the board".to_string())?;
    for pair in bar.cuts.windows(2) {
        check_joint(job, &pair[0], &pair[1])?;
    }
    check_shared_ends(bar)?;
    let usable = stock.length - job.end_trim;
    let end = bar.cuts[bar.cuts.len() - 1].to;
    let needed = if job.kerf_rule == KerfRule::Every { end + job.kerf } else { end };
    require(needed <= usable, || format!("its parts end at {needed}, beyond its usable length {usable}"))?;
    let offcut = (usable - end - job.kerf).max(0);
    require(bar.offcut == offcut, || format!("its offcut is {offcut}, not {}", bar.offcut))
}

fn check_joint(job: &Job, before: &Cut, after: &Cut) -> Result<(), String> {
    let gap = after.from - before.to;
    let names = || format!("between parts {} and {}", before.mark, after.mark);
    if !after.shares_cut {
        return require(gap >= job.kerf, || format!("the saw has {gap} {}, less than its kerf", names()));
    }
    let saving =
        job.mitre_joint_saving.ok_or_else(|| format!("a cut is shared {}, and the job forbids it", names()))?;
    require(gap >= job.kerf - saving, || format!("the shared cut {} is closer than the mitres allow", names()))?;
    require(before.turned_over != after.turned_over, || format!("neither part is turned over {}", names()))
}

/// A part shares no more cuts than it has mitred ends.
fn check_shared_ends(bar: &Bar) -> Result<(), String> {
    for (at, cut) in bar.cuts.iter().enumerate() {
        let after = bar.cuts.get(at + 1).is_some_and(|next| next.shares_cut);
        let shared = u8::from(cut.shares_cut) + u8::from(after);
        require(shared <= cut.mitred_ends, || format!("part {} shares more cuts than it has mitred ends", cut.mark))?;
    }
    Ok(())
}

fn require(holds: bool, what: impl FnOnce() -> String) -> Result<(), String> {
    if holds { Ok(()) } else { Err(what()) }
}
