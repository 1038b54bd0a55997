// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/variables.h"

namespace touchmark::content {

/// What a variable can be, for the job file, the command line and the panel.
struct VariableKindRow {
    std::string_view key;   ///< in the job file: "check_digit"
    std::string_view title; ///< "Check digit"
    std::string_view name;  ///< what a new one is called: "check"
    std::string_view help;  ///< one sentence
    VariableKind standard;  ///< what a new one holds
};
[[nodiscard]] std::span<const VariableKindRow> variable_kinds();
[[nodiscard]] const VariableKindRow& row_of(const VariableKind& kind);
[[nodiscard]] const VariableKindRow* find_variable_kind(std::string_view key);

/// The name, or the name with the smallest number behind it that no variable has.
[[nodiscard]] std::string free_name(const Variables& variables, std::string_view name);

/// A variable as the command line writes it: "NW-2207" a text (its name says whether a part number, a lot …),
/// "serial:0001..0500" or "serial:10..990/10" with its step, "date:YYMMDD" for the day it is made and
/// "date:YYMMDD@2026-03-14", "check:mod_37_36" of the text before it and "check:gs1_mod10@gtin", "column:Lot number",
/// "text:serial:1" where a text looks like one of these. Errors: "content.variable" and those of check().
[[nodiscard]] Result<Variable> variable_from(std::string_view name, std::string_view value);

} // namespace touchmark::content
