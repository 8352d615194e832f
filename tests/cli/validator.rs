//! A reader of the keywords that the schemas of the answers use: type, properties, required, items, enum. Stricter than
//! the standard (JSON Schema 2020-12) in one point: a field that no schema tells of is a finding, since nobody promised it.

use serde_json::Value;

/// What of the value is not as the schema says, each with its path. Empty where it fits.
pub fn findings(schema: &Value, value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    look(schema, value, "$", &mut found);
    found
}

fn look(schema: &Value, value: &Value, path: &str, found: &mut Vec<String>) {
    let types: Vec<&str> = match &schema["type"] {
        Value::String(one) => vec![one],
        Value::Array(several) => several.iter().filter_map(Value::as_str).collect(),
        _ => return found.push(format!("{path}: the schema names no type")),
    };
    if !types.iter().any(|name| is(name, value)) {
        return found.push(format!("{path}: {value} is no {}", types.join(" or ")));
    }
    if let Some(all) = schema["enum"].as_array()
        && !all.contains(value)
    {
        found.push(format!("{path}: {value} is none of {}", schema["enum"]));
    }
    if let Some(fields) = value.as_object() {
        for name in schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str) {
            if !fields.contains_key(name) {
                found.push(format!("{path}.{name}: is missing"));
            }
        }
        for (name, field) in fields {
            match schema["properties"].get(name) {
                Some(below) => look(below, field, &format!("{path}.{name}"), found),
                None => found.push(format!("{path}.{name}: no schema tells of it")),
            }
        }
    }
    for (n, item) in value.as_array().into_iter().flatten().enumerate() {
        look(&schema["items"], item, &format!("{path}[{n}]"), found);
    }
}

fn is(name: &str, value: &Value) -> bool {
    match name {
        "object" => value.is_object(),
        "array" => value.is_array(),
        "string" => value.is_string(),
        "number" => value.is_number(),
        "integer" => value.is_u64() || value.is_i64(),
        "boolean" => value.is_boolean(),
        "null" => value.is_null(),
        _ => false,
    }
}
