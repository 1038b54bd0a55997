// SPDX-License-Identifier: MIT
#include "core/content/code.h"
#include "core/job/clear_face_file.h"
#include "core/job/file_format.h"
#include "core/job/job_file.h"
#include "core/job/variables_file.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace touchmark::job {
namespace {

using Out = nlohmann::ordered_json;
using Kind = Parameter::Kind;

Out number_schema(double least, double most) {
    return {{"type", "number"}, {"minimum", least}, {"maximum", most}};
}

Out value_schema(const Parameter& row) {
    Out out;
    switch (row.kind) {
    case Kind::length:
    case Kind::angle:
    case Kind::factor:
        out = number_schema(row.least, row.most);
        break;
    case Kind::choice:
        for (const auto& [key, title] : row.choices)
            out["enum"].push_back(key);
        break;
    case Kind::text:
    case Kind::family:
    case Kind::drawing:
    case Kind::line:
        out = {
            {"type", "string"}, {"minLength", static_cast<int>(row.least)}, {"maxLength", static_cast<int>(row.most)}};
        break;
    }
    return out;
}

Out parameter_schema(const Parameter& row) {
    Out out = {{"title", row.title}};
    out["description"] = std::string(row.help) + (row.unit.empty() ? "" : " In " + std::string(row.unit) + ".");
    if (row.key == weight_key) {
        out["type"] = "integer";
        out["minimum"] = static_cast<int>(row.least);
        out["maximum"] = static_cast<int>(row.most);
        out["default"] = std::stoi(std::get<std::string>(row.standard));
        return out;
    }
    out.update(value_schema(row));
    if (row.key != "text" && row.key != kind_key)
        std::visit([&](const auto& value) { out["default"] = value; }, row.standard);
    return out;
}

/// Some values of a code depend on its symbology; the schema tells only the kinds apart.
bool had_by_some(const Parameter& row, content::Content content) {
    auto* code = std::get_if<content::Code>(&content);
    if (!code) return row.had_by(content);
    return std::ranges::any_of(content::symbologies(), [&](const content::SymbologyRow& symbology) {
        code->symbology = symbology.symbology;
        return row.had_by(content);
    });
}

Out digest_schema(const char* description) {
    return {{"type", "string"}, {"pattern", "^[0-9a-f]{32}$"}, {"description", description}};
}

/// What tells this kind from the others: values that it does not have must be absent.
Out values_of(const content::Content& content) {
    Mark mark;
    mark.content = content;
    Out properties = Out::object();
    for (const Parameter& row : parameters()) {
        if (row.key == kind_key)
            std::visit([&](const auto& kind) { properties[kind_key] = {{"const", kind}}; }, row.get(mark));
        else if (row.had_by && !had_by_some(row, content))
            properties[std::string(row.key)] = false;
    }
    return {{"properties", properties}};
}

Out mark_schema() {
    Out values = {
        {"id",
         {{"type", "string"}, {"pattern", "^m[1-9][0-9]{0,8}$"}, {"description", "Unique in the job, never reused."}}},
        {"name",
         {{"type", "string"},
          {"minLength", 1},
          {"maxLength", static_cast<int>(longest_name)},
          {"description", "For people, and for the faces of the mark in the STEP file."}}},
        {"face",
         {{"type", "integer"},
          {"minimum", 0},
          {"maximum", most_faces},
          {"description", "Index of the face the mark sits on."}}},
        {"fingerprint", digest_schema("Finds the face again in a new revision of the part.")}};
    for (const Parameter& row : parameters())
        values[std::string(row.key)] = parameter_schema(row);
    return {{"type", "object"},
            {"additionalProperties", false},
            {"required", {"id", "name", "kind", "face", "text"}},
            {"properties", values},
            {"oneOf", {values_of(content::Text{}), values_of(content::Code{}), values_of(content::Art{})}}};
}

Out part_schema() {
    return {{"type", "object"},
            {"additionalProperties", false},
            {"oneOf", {{{"required", {"file"}}}, {{"required", {"file_bytes"}}}}},
            {"properties",
             {{"file",
               {{"type", "string"},
                {"description", "Path of the STEP file, relative to the job's folder when it lies near."}}},
              {"file_bytes",
               {{"type", "string"},
                {"pattern", "^([0-9a-f]{2})*$"},
                {"description", "The same in hexadecimal, for a path that is not UTF-8."}}},
              {"digest", digest_schema("Of the file's bytes when the marks were placed.")}}}};
}

Out pose_schema() {
    return {{"type", "object"},
            {"additionalProperties", false},
            {"required", {"down", "turn"}},
            {"description", "How the part lies on the plate."},
            {"properties",
             {{"down",
               {{"type", "array"},
                {"minItems", 3},
                {"maxItems", 3},
                {"items", number_schema(-1e6, 1e6)},
                {"description", "The direction of the part, in its own coordinates, that points down."}}},
              {"turn",
               {{"type", "number"},
                {"minimum", -360},
                {"maximum", 360},
                {"description", "Then about the vertical, degrees, counter-clockwise from above."}}}}}};
}

} // namespace

std::string job_schema() {
    const Out schema = {
        {"$schema", "https://json-schema.org/draft/2020-12/schema"},
        {"title", "Touchmark job"},
        {"description", "A part, how it lies on the plate, the process that prints it, and the marks on it."},
        {"type", "object"},
        {"additionalProperties", false},
        {"required", {"format", "version", "part", "process", "marks"}},
        {"properties",
         {{"$schema", {{"type", "string"}}},
          {"format", {{"const", format_name}}},
          {"version", {{"const", newest_version}}},
          {"part", part_schema()},
          {"process",
           {{"type", "string"},
            {"minLength", 1},
            {"maxLength", static_cast<int>(longest_name)},
            {"description", "Id of a process profile, for example fff-0.4."}}},
          {"pose", pose_schema()},
          {"next_mark",
           {{"type", "integer"},
            {"minimum", 1},
            {"maximum", most_ids},
            {"description", "The number that the next mark's id gets."}}},
          {"marks", {{"type", "array"}, {"maxItems", static_cast<int>(most_marks)}, {"items", mark_schema()}}},
          {kept_clear_key, kept_clear_schema()},
          {variables_key, variables_schema()},
          {table_key, table_schema()}}}};
    return schema.dump(2) + "\n";
}

} // namespace touchmark::job
