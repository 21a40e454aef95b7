//! Tables as JSON: what is accepted, what is refused and in which words.

use thistledown::search::{CEILING, Limits, read, solve};

fn faults(text: &str) -> String {
    match read::table(text) {
        Ok(_) => panic!("accepted: {text}"),
        Err(p) => p.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"),
    }
}

fn strip(change: &str) -> String {
    let base = r#"{"name":"aft","bays":2,"candidates":2,"max_changes":1,"classes":2,"class_of":[0,1],
        "table":[[[5,1,0,0,9],[5,1,0,0,9]],[[3,4,0,0,9],null]],
        "splice":[[[[1,1,1],[2,2,2]],[null,[1,1,1]]]],"note":"kept out"}"#;
    let (from, to) = change.split_once("=>").unwrap_or(("", ""));
    assert!(base.contains(from), "{from}");
    format!("{{\"strips\":[{}],\"extra\":{{}}}}", base.replacen(from, to, 1))
}

#[test]
fn every_fault_is_named_with_its_place() {
    for (change, words) in [
        ("[5,1,0,0,9]=>[5,-1,0,0,9]", "strip `aft`: candidate 0, bay 0: repair is -1"),
        ("[5,1,0,0,9]=>[5.5,1,0,0,9]", "mass is 5.5"),
        ("[5,1,0,0,9]=>[5,1,0,9]", "candidate 0, bay 0: [5,1,0,9] is no row"),
        ("[5,1,0,0,9]=>[2000000000,1,0,0,9]", "below 1073741824"),
        ("[3,4,0,0,9],null=>[3,4,0,0,9]", "candidate 1: its row of `table` has 1; give 2 bays"),
        ("\"class_of\":[0,1]=>\"class_of\":[0,2]", "`class_of` names class 2 of 2"),
        ("\"class_of\":[0,1]=>\"class_of\":[0]", "`class_of` has 1 entries for 2 candidates"),
        ("\"candidates\":2=>\"candidates\":3", "`table` has 2 rows for 3 candidates"),
        ("\"bays\":2=>\"bays\":0", "it has no bays"),
        ("\"bays\":2=>\"bays\":2.5", "`bays` is 2.5"),
        ("\"max_changes\":1=>\"max_changes\":-1", "`max_changes` is -1"),
        ("\"splice\":[[[[1,1,1],[2,2,2]]=>\"splice\":[[[[1,1,1],[2,-2,2]]", "splice[0][0][1]: repair is -2"),
        ("\"splice\":[[[[1,1,1],[2,2,2]]=>\"splice\":[[[[1,1,1]]", "splice[0][0] is not one entry for each class"),
        ("\"table\":=>\"tabel\":", "it has no `table`"),
        ("\"name\":\"aft\"=>\"shortest_run\":0", "`shortest_run` is 0"),
    ] {
        let text = faults(&strip(change));
        assert!(text.contains(words), "{change}: {text}");
    }
    assert!(faults("{").contains("not JSON"));
    assert!(faults("{}").contains("no list `strips`"));
    assert!(faults("[]").contains("no list `strips`"));
    assert!(faults("{\"strips\":[]}").contains("0 strips"));
    assert!(faults("{\"strips\":[7]}").contains("not an object"));
}

#[test]
fn all_faults_come_at_once() {
    let text = faults(&strip("[[5,1,0,0,9],[5,1,0,0,9]]=>[[-5,1,0,-1,9],[5,1,0,0,\"x\"]]"));
    assert_eq!(text.lines().count(), 3, "{text}");
}

#[test]
fn totals_that_could_overflow_are_refused() {
    let big = r#"{"strips":[{"table":[[[600000000,1,0,0,0],[600000000,1,0,0,0]]]}]}"#;
    assert!(faults(big).contains("mass could add up to 1200000000"), "{}", faults(big));
}

#[test]
fn what_is_left_out_has_a_plain_meaning() {
    let t = read::table(r#"{"strips":[{"table":[[[9,1,0,0,5],[2,9,0,0,5]],[[4,4,0,0,5],[8,2,0,0,5]]]}]}"#).unwrap();
    let s = &t.strips()[0];
    assert_eq!((s.name.as_str(), s.bays, s.candidates.len(), s.classes, s.max_changes), ("0", 2, 2, 1, 1));
    assert_eq!(solve(&t, &Limits::default(), CEILING).lightest.unwrap().sum.mass, 6);
}

/// As many entries as bays: entry b is the joint on the root side of bay b, entry 0 is unused.
#[test]
fn a_splice_list_as_long_as_the_bays_leaves_its_first_entry_unused() {
    let short = read::table(&strip("")).unwrap();
    let long = read::table(&strip("\"splice\":[=>\"splice\":[null,")).unwrap();
    assert_eq!(short, long);
    assert_eq!(short.strips()[0].joint(0, 0, 1).unwrap().mass, 2);
    assert_eq!(short.strips()[0].joint(0, 1, 0), None);
}
