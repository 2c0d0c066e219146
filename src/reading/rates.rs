//! The table `[rates]` of a job: how long work by hand takes.

use super::fields::Fields;
use crate::machines::{Rate, Rates};
use crate::units::Kind;

/// What is not given stays an example.
pub(super) fn read_rates(fields: Fields<'_>) -> Option<Rates> {
    let examples = Rates::default();
    let rate = |key: &'static str, example: Rate| {
        if !fields.has(key) {
            return Some(example);
        }
        fields
            .quantity_within(key, Kind::Time, "0 s", "1440 min")
            .map(Rate::own)
    };
    let setting = rate("setting", examples.setting);
    let cut = rate("cut", examples.cut);
    let block = rate("block", examples.block);
    let facet = rate("facet", examples.facet);
    let piece = rate("piece", examples.piece);
    let strip = rate("strip", examples.strip);
    let load = rate("load", examples.load);
    fields.finish();
    Some(Rates {
        setting: setting?,
        cut: cut?,
        block: block?,
        facet: facet?,
        piece: piece?,
        strip: strip?,
        load: load?,
    })
}

#[cfg(test)]
mod tests {
    use crate::machines::Rates;
    use crate::reading::{JOB as JOB_KEYS, read_job};

    const JOB: &str = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
                       overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n";

    #[test]
    fn what_is_given_is_ones_own() {
        let job = read_job("job.toml", &format!("{JOB}[rates]\nsetting = \"12 min\"\n")).unwrap();
        assert!((job.rates.setting.seconds - 720.0).abs() < 1e-9);
        let own: Vec<&str> = (job.rates.named().iter())
            .filter(|(_, rate)| rate.is_own)
            .map(|(name, _)| *name)
            .collect();
        assert_eq!(own, ["setting"]);
        let none = read_job("job.toml", JOB).unwrap();
        assert!(none.rates.named().iter().all(|(_, rate)| !rate.is_own));
    }

    /// What is told of a key that is left out is what holds then.
    #[test]
    fn examples_are_told_as_they_are() {
        let table = JOB_KEYS
            .tables
            .iter()
            .find(|table| table.path == "rates")
            .unwrap();
        let rows = table.fields.iter();
        let lines: Vec<String> = rows
            .map(|row| format!("{} = \"{}\"", row.key, row.usual))
            .collect();
        let job = read_job("job.toml", &format!("{JOB}[rates]\n{}\n", lines.join("\n"))).unwrap();
        for ((name, told), (_, example)) in job.rates.named().iter().zip(Rates::default().named()) {
            assert!((told.seconds - example.seconds).abs() < 1e-9, "{name}");
            assert!(told.is_own);
        }
    }

    #[test]
    fn a_length_is_no_time() {
        for wrong in ["setting = \"12 mm\"", "cut = 40", "faset = \"30 s\""] {
            let bad = read_job("job.toml", &format!("{JOB}[rates]\n{wrong}\n")).unwrap_err();
            let field = wrong.split(' ').next().unwrap();
            assert!(
                bad.findings
                    .iter()
                    .any(|one| one.field == format!("rates.{field}"))
            );
        }
    }
}
