//! Advice that is followed gives what it promises.

use crate::made_up::{BY_KEY, BY_STOP, SledText, job_text};
use crate::support::cli::Bench;
use serde_json::Value;

fn asked(bench: &Bench, code: i32) -> Value {
    let ran = bench.run(&["fit", "job.toml", "--draws", "2000", "--format", "json"]);
    assert_eq!(ran.code, code, "{}", ran.err);
    ran.json()
}

fn mm(length: &Value) -> String {
    format!("{} mm", length.as_f64().unwrap())
}

/// Follows every advice by itself, in the job or the profile, and gets the chance that was promised.
fn follow(sled: &SledText, clearance: &str) -> usize {
    let machines = "[machines]\nsled = \"sled.toml\"\n[fit]\ncrush = \"0.02 mm\"\n";
    let job = |clearance: &str| job_text(5, 4, clearance, machines);
    let bench = Bench::new();
    bench.write("job.toml", job(clearance));
    bench.write("sled.toml", sled.text());
    let before = asked(&bench, 1);
    let way = &before["ways"][0];
    assert_eq!(way["ok"], false);
    let advice = way["advice"].as_array().unwrap();
    for one in advice {
        let change = mm(&one["change_mm"]);
        let setting = one["setting"].as_str().unwrap();
        match setting {
            "strip.clearance" => bench.write("job.toml", job(&change)),
            field => {
                let (table, key) = field.split_once('.').unwrap();
                let text = sled.text();
                let at = text.find(&format!("[{table}]")).unwrap();
                let at = at + text[at..].find(&format!("{key} = ")).unwrap();
                let end = at + text[at..].find('\n').unwrap();
                bench.write(
                    "sled.toml",
                    format!("{}{key} = \"{change}\"{}", &text[..at], &text[end..]),
                );
            }
        }
        let gain = one["gain"].as_f64().unwrap();
        let least = before["wishes"]["least_chance"].as_f64().unwrap();
        let after = asked(&bench, i32::from(gain < least));
        let chance = after["ways"][0]["closes"]["chance"].as_f64().unwrap();
        println!("{setting} to {change}: {chance}, promised {gain}");
        assert!((chance - gain).abs() < 1e-12, "{setting} to {change}");
        bench.write("job.toml", job(clearance));
        bench.write("sled.toml", sled.text());
    }
    advice.len()
}

#[test]
fn what_is_promised_of_a_sled_with_a_stop() {
    let sled = SledText {
        block: "12 mm",
        ..BY_STOP
    };
    assert!(follow(&sled, "0.03 mm") >= 2);
}

#[test]
fn what_is_promised_of_a_key() {
    assert!(follow(&BY_KEY, "0.02 mm") >= 1);
}
