use super::answers::{Failure, Outcome, Shown};
use super::arguments::BuildArguments;
pub(super) fn run(_: &BuildArguments, _: Shown) -> Outcome {
    Err(Failure::input("not yet"))
}
