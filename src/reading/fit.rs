//! The table `[fit]` of a job: what a prediction of the fit is held against.

use super::fields::Fields;
use crate::lattice::FitWishes;
use crate::units::Kind;

/// What is not given stays as it is assumed.
pub(super) fn read_fit_wishes(fields: Fields<'_>) -> Option<FitWishes> {
    let assumed = FitWishes::default();
    let length = |key: &'static str, assumed: f64| {
        if !fields.has(key) {
            return Some(assumed);
        }
        fields.quantity_within(key, Kind::Length, "0 mm", "2 mm")
    };
    let crush = length("crush", assumed.crush);
    let batch = length("batch", assumed.batch);
    let least_chance = if fields.has("least_chance") {
        fields.quantity_within("least_chance", Kind::Share, "0 %", "100 %")
    } else {
        Some(assumed.least_chance)
    };
    let crush_is_assumed = !fields.has("crush");
    fields.finish();
    Some(FitWishes {
        crush: crush?,
        crush_is_assumed,
        least_chance: least_chance?,
        batch: batch?,
    })
}

#[cfg(test)]
mod tests {
    use crate::lattice::FitWishes;
    use crate::reading::{JOB as JOB_KEYS, read_job};

    const JOB: &str = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
                       overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n";

    #[test]
    fn what_is_left_out_is_assumed() {
        assert_eq!(read_job("job.toml", JOB).unwrap().fit, FitWishes::default());
        let text = format!("{JOB}[fit]\ncrush = \"0.05 mm\"\nleast_chance = \"90 %\"\n");
        let fit = read_job("job.toml", &text).unwrap().fit;
        assert!((fit.crush - 0.05).abs() < 1e-12 && !fit.crush_is_assumed);
        assert!((fit.least_chance - 0.9).abs() < 1e-12);
        assert!((fit.batch - FitWishes::default().batch).abs() < 1e-12);
    }

    /// What is told of a key that is left out is what holds then.
    #[test]
    fn usual_figures_are_told_as_they_are() {
        let table = JOB_KEYS
            .tables
            .iter()
            .find(|table| table.path == "fit")
            .unwrap();
        let usual = |key: &str| {
            table
                .fields
                .iter()
                .find(|row| row.key == key)
                .unwrap()
                .usual
        };
        let text = format!(
            "{JOB}[fit]\ncrush = \"{}\"\nleast_chance = \"{}\"\nbatch = \"{}\"\n",
            usual("crush").split(',').next().unwrap(),
            usual("least_chance"),
            usual("batch")
        );
        let told = read_job("job.toml", &text).unwrap().fit;
        let crush_is_assumed = true;
        assert_eq!(
            FitWishes {
                crush_is_assumed,
                ..told
            },
            FitWishes::default()
        );
    }

    #[test]
    fn a_chance_is_a_share() {
        for (wrong, field, code) in [
            ("least_chance = 0.95", "fit.least_chance", "bare-number"),
            ("crush = \"3 mm\"", "fit.crush", "out-of-range"),
            ("batch = 0.1", "fit.batch", "bare-number"),
        ] {
            let bad = read_job("job.toml", &format!("{JOB}[fit]\n{wrong}\n")).unwrap_err();
            let found = bad.findings.iter().find(|one| one.field == field).unwrap();
            assert_eq!(found.code, code);
        }
    }
}
