//! The files of the page, all of them in the program.

/// Name in the address, media type, text.
type File = (&'static str, &'static str, &'static str);

const JS: &str = "text/javascript; charset=utf-8";

/// Every file that can be had; nothing else is ever served.
const FILES: &[File] = &[
    (
        "",
        "text/html; charset=utf-8",
        include_str!("page/index.html"),
    ),
    (
        "look.css",
        "text/css; charset=utf-8",
        include_str!("page/look.css"),
    ),
    ("main.js", JS, include_str!("page/main.js")),
];

/// The file of this name.
pub(super) fn file(name: &str) -> Option<&'static File> {
    FILES.iter().find(|(known, ..)| *known == name)
}
