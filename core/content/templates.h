// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/content.h"

#include <map>
#include <span>

namespace touchmark::content {

/// By a field's key.
using TemplateValues = std::map<std::string, std::string, std::less<>>;

/// What a template wants to know.
struct TemplateField {
    std::string_view key;      ///< "polymer": --set polymer=ABS
    std::string_view standard; ///< empty: left out unless given
    std::string_view help;
};

/// A standing content that production parts carry. Which of them a part has to carry, and may carry, is for the
/// responsible engineer and the rules that apply where the part is used: each row says who has to approve it.
struct Template {
    std::string_view key; ///< --template plastics
    std::string_view title;
    std::string_view source;   ///< where wording or geometry come from, and how well known
    std::string_view approver; ///< who has to agree before it goes on a part
    std::vector<TemplateField> fields;
    /// REQUIRES: a value for every field. Fonts are for numbers and letters within symbols.
    Result<Content> (*make)(const TemplateValues& values, const FontLibrary& fonts) = nullptr;
};

/// Add new ones here: a row, its function in a template_….cpp, its test, its line in docs/templates.md.
[[nodiscard]] std::span<const Template> templates();
[[nodiscard]] const Template* find_template(std::string_view key);
/// Fields that are not given take their standard value. Errors: "content.template" (no such template), and
/// "content.template_value" naming the field: unknown, missing, malformed.
[[nodiscard]] Result<Content> from_template(std::string_view key, const TemplateValues& values,
                                            const FontLibrary& fonts);

// The rows' functions.
[[nodiscard]] Result<Content> plastics_identification(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> resin_number(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> patent_notice(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> ce_mark(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> crossed_out_bin(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> part_and_revision(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> date_dial(const TemplateValues& values, const FontLibrary& fonts);
[[nodiscard]] Result<Content> unit_serial(const TemplateValues& values, const FontLibrary& fonts);

/// "content.template_value"
[[nodiscard]] std::unexpected<Error> bad_value(std::string_view field, std::string_view why);

} // namespace touchmark::content
