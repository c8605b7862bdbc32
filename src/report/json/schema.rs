//! `docs/result.schema.json` is what the structs of a conversion and their comments say.

use std::{env, fs};

use schemars::Schema;
use schemars::generate::SchemaSettings;
use schemars::transform::transform_subschemas;
use serde_json::{Map, Value, json};

use super::conversion::ConversionJson;
use crate::report::SCHEMA_VERSION;

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/result.schema.json");

/// How wide a number is in memory is nothing to its reader, nor how long the lines of a comment are.
fn plain(schema: &mut Schema) {
    schema.remove("format");
    schema.remove("maximum");
    if let Some(Value::String(says)) = schema.get_mut("description") {
        *says = says.replace('\n', " ");
    }
    transform_subschemas(&mut plain, schema);
}

fn made() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let settings = settings.with_transform(plain);
    let mut schema = settings
        .into_generator()
        .into_root_schema_for::<ConversionJson<'_>>();
    schema.insert("$id".to_owned(), json!("capwright:result"));
    schema.insert(
        "title".to_owned(),
        json!("What `capwright convert --format json` and `report::conversion_json` give"),
    );
    schema.insert("version".to_owned(), json!(SCHEMA_VERSION));
    let schema = schema.to_value();
    // `Json` tells the structs from what they are made of; in the schema there is nothing else.
    let text = format!("{schema:#}\n").replace("Json\"", "\"");
    let read: Value = serde_json::from_str(&text).unwrap();
    let names = |schema: &Value| schema["$defs"].as_object().map(Map::len);
    assert_eq!(
        names(&read),
        names(&schema),
        "two definitions with one name"
    );
    text
}

#[test]
fn the_schema_is_what_the_structs_say() {
    let made = made();
    if env::var_os("WRITE_SCHEMA").is_some() {
        fs::write(FILE, &made).unwrap();
    }
    assert_eq!(
        fs::read_to_string(FILE).unwrap(),
        made,
        "write docs/result.schema.json anew: WRITE_SCHEMA=1 cargo test --lib the_schema_is; its version with \
         SCHEMA_VERSION where a key goes or changes its meaning"
    );
}
