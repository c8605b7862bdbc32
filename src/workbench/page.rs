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
    ("advice.js", JS, include_str!("page/advice.js")),
    ("ask.js", JS, include_str!("page/ask.js")),
    ("backlist.js", JS, include_str!("page/backlist.js")),
    ("carrier.js", JS, include_str!("page/carrier.js")),
    ("early.js", JS, include_str!("page/early.js")),
    ("dom.js", JS, include_str!("page/dom.js")),
    ("effort.js", JS, include_str!("page/effort.js")),
    ("fields.js", JS, include_str!("page/fields.js")),
    ("figures.js", JS, include_str!("page/figures.js")),
    ("form.js", JS, include_str!("page/form.js")),
    ("invitation.js", JS, include_str!("page/invitation.js")),
    ("keeper.js", JS, include_str!("page/keeper.js")),
    ("knit.js", JS, include_str!("page/knit.js")),
    ("leaflet.js", JS, include_str!("page/leaflet.js")),
    ("lines.js", JS, include_str!("page/lines.js")),
    ("main.js", JS, include_str!("page/main.js")),
    ("numbers.js", JS, include_str!("page/numbers.js")),
    ("pairs.js", JS, include_str!("page/pairs.js")),
    ("result.js", JS, include_str!("page/result.js")),
    ("save.js", JS, include_str!("page/save.js")),
    ("shelf.js", JS, include_str!("page/shelf.js")),
    ("stitches.js", JS, include_str!("page/stitches.js")),
    ("state.js", JS, include_str!("page/state.js")),
    ("teach.js", JS, include_str!("page/teach.js")),
    ("units.js", JS, include_str!("page/units.js")),
    ("words.js", JS, include_str!("page/words.js")),
];

/// The file of this name.
pub(super) fn file(name: &str) -> Option<&'static File> {
    FILES.iter().find(|(known, ..)| *known == name)
}
