//! Every block of `docs/at-the-needles.md` is what the program prints.
//!
//! A block begins with `$` and a command, with answers piped in by `printf` where there are some. The comment
//! above it says which lines of the output are shown: `start .. end | single line`, each a piece of a line.
//! `NEEDLES=write cargo test needles` writes the blocks anew. What is knitted in them knits back.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// One block: what of the output is shown, the command's words, the answers.
struct Block {
    shown: String,
    first: String,
    words: Vec<String>,
    answers: String,
}

const COMMENT: &str = "<!-- shown: ";

/// The text with every block put anew by the program, and how many there are.
fn rewritten(text: &str, folder: &Path) -> (String, usize) {
    let mut parts = text.split(COMMENT);
    let mut out = parts.next().unwrap_or_default().to_owned();
    let mut all = 0;
    for part in parts {
        let (shown, rest) = part
            .split_once(" -->\n```\n$ ")
            .expect("a block below the comment");
        let (old, after) = rest.split_once("\n```").expect("the block's end");
        let block = block(shown, old.lines().next().unwrap_or_default());
        let lines = excerpt(&block.shown, &printed(&block, folder));
        let first = &block.first;
        let parts = [
            COMMENT,
            shown,
            " -->\n```\n$ ",
            first,
            "\n",
            &lines,
            "\n```",
            after,
        ];
        out.extend(parts);
        all += 1;
    }
    (out, all)
}

fn block(shown: &str, first: &str) -> Block {
    let (answers, command) = match first.split_once(" | ") {
        Some((typed, command)) => (answers(typed), command),
        None => (String::new(), first),
    };
    let mut words = command.split_whitespace().map(str::to_owned);
    assert_eq!(words.next().as_deref(), Some("capwright"), "{command}");
    Block {
        shown: shown.to_owned(),
        first: first.to_owned(),
        words: words.collect(),
        answers,
    }
}

/// The lines that are shown; `[...]` for those between.
fn excerpt(shown: &str, printed: &str) -> String {
    let lines: Vec<&str> = printed.lines().map(str::trim_end).collect();
    let mut at = 0;
    let mut parts = Vec::new();
    for part in shown.split(" | ") {
        let (start, end) = part.split_once(" .. ").unwrap_or((part, part));
        let find = |from: usize, words: &str| {
            let found = lines[from..].iter().position(|line| line.contains(words));
            from + found.unwrap_or_else(|| panic!("no line has '{words}' in\n{printed}"))
        };
        let from = find(at, start);
        let to = find(from, end);
        parts.push(lines[from..=to].join("\n"));
        at = to + 1;
    }
    parts.join("\n[...]\n")
}

/// `printf 'g 13\n'` as what it prints.
fn answers(typed: &str) -> String {
    let quoted = typed
        .strip_prefix("printf '")
        .and_then(|typed| typed.strip_suffix('\''));
    quoted
        .unwrap_or_else(|| panic!("{typed}"))
        .replace("\\n", "\n")
}

/// What the command prints, on both outputs, in a folder that has our cases.
fn printed(block: &Block, folder: &Path) -> String {
    let mut child = Command::new(env!("CARGO_BIN_EXE_capwright"))
        .args(&block.words)
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let _ = child
        .stdin
        .take()
        .unwrap()
        .write_all(block.answers.as_bytes());
    let output = child.wait_with_output().unwrap();
    let texts = [output.stderr, output.stdout].map(|bytes| String::from_utf8(bytes).unwrap());
    texts.concat()
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
    }
}

#[test]
fn every_block_is_what_the_program_prints() {
    let file = root().join("docs/at-the-needles.md");
    let text = fs::read_to_string(&file).unwrap();
    let folder = tempfile::tempdir().unwrap();
    copy(
        &root().join("docs/needles"),
        &folder.path().join("docs/needles"),
    );
    let (real, all) = rewritten(&text, folder.path());
    assert!(all >= 6, "{all} blocks");
    assert_eq!(
        text.matches("\n$ capwright").count() + text.matches("\n$ printf").count(),
        all
    );
    if std::env::var_os("NEEDLES").is_some() {
        fs::write(&file, &real).unwrap();
        return;
    }
    let differ = text.lines().zip(real.lines()).find(|(a, b)| a != b);
    assert!(
        text == real,
        "NEEDLES=write writes it anew; first {differ:?}"
    );
}

/// Every case of the stories converts to a pattern that knits back, and is shown in one of them.
#[test]
fn every_story_knits_back() {
    let text = fs::read_to_string(root().join("docs/at-the-needles.md")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(root().join("docs/needles")).unwrap() {
        let case = entry.unwrap().path();
        let name = case.file_name().unwrap().to_str().unwrap().to_owned();
        assert!(
            text.contains(&format!("docs/needles/{name}")),
            "{name} is in no story"
        );
        let sleeve = folder.path().join("sleeve.txt");
        let run = |words: &[&str]| {
            let output = Command::new(env!("CARGO_BIN_EXE_capwright"))
                .args(words)
                .output()
                .unwrap();
            assert_eq!(
                output.status.code(),
                Some(0),
                "{name}: {}",
                String::from_utf8_lossy(&output.stderr)
            );
        };
        run(&[
            "convert",
            case.to_str().unwrap(),
            "-o",
            sleeve.to_str().unwrap(),
        ]);
        run(&["knit", sleeve.to_str().unwrap()]);
        fs::remove_file(&sleeve).unwrap();
    }
}

#[test]
fn what_is_shown_is_whole_and_in_order() {
    let printed = "one\ntwo  \nthree\nfour";
    assert_eq!(
        excerpt("one .. two | four", printed),
        "one\ntwo\n[...]\nfour"
    );
    assert_eq!(excerpt("thr", printed), "three");
}
