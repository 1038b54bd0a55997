// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace touchmark::content {

/// A text with variables: "{part}-{serial}". Two opening braces are one brace; a closing one alone stands for itself.
struct TextPart {
    bool variable = false;
    std::string text; ///< what stands there, or the variable's name
};

inline constexpr std::size_t longest_variable_name = 40; ///< bytes

/// Letters, figures, dashes, dots and underscores, and everything beyond ASCII.
[[nodiscard]] bool is_variable_name(std::string_view name);
/// Whether there is anything in the text that does not stand for itself.
[[nodiscard]] inline bool has_braces(std::string_view text) {
    return text.find('{') != std::string_view::npos;
}
/// Errors: "content.placeholder": a brace that opens and no name, or none that closes.
[[nodiscard]] Result<std::vector<TextPart>> parts_of(std::string_view text);
/// The text that means `literal`.
[[nodiscard]] std::string escaped(std::string_view literal);
/// The text with another name in the place of one; the text itself where it is malformed.
[[nodiscard]] std::string with_renamed(std::string_view text, std::string_view from, std::string_view to);

} // namespace touchmark::content
