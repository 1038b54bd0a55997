// SPDX-License-Identifier: MIT
#include "core/content/placeholder.h"

#include <algorithm>

namespace touchmark::content {

bool is_variable_name(std::string_view name) {
    const auto good = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' || c == '_' ||
               c == '.' || static_cast<unsigned char>(c) >= 0x80;
    };
    return !name.empty() && name.size() <= longest_variable_name && std::ranges::all_of(name, good);
}

Result<std::vector<TextPart>> parts_of(std::string_view text) {
    std::vector<TextPart> parts;
    const auto literal = [&](std::string_view some) {
        if (parts.empty() || parts.back().variable) parts.push_back({false, {}});
        parts.back().text += some;
    };
    while (!text.empty()) {
        const auto brace = text.find('{');
        if (brace != 0) literal(text.substr(0, brace));
        if (brace == std::string_view::npos) break;
        text.remove_prefix(brace + 1);
        if (text.starts_with('{')) {
            literal("{");
            text.remove_prefix(1);
            continue;
        }
        const auto end = text.find('}');
        const std::string_view name = text.substr(0, end);
        if (end == std::string_view::npos || !is_variable_name(name))
            return fail("content.placeholder",
                        "\"{" + std::string(text.substr(0, std::min<std::size_t>(text.find('\n'), 20))) +
                            "\" opens a brace without naming a variable.",
                        "Write {serial} for the variable serial, and {{ for a brace.");
        parts.push_back({true, std::string(name)});
        text.remove_prefix(end + 1);
    }
    return parts;
}

std::string escaped(std::string_view literal) {
    std::string text;
    for (const char c : literal)
        text.append(c == '{' ? 2 : 1, c);
    return text;
}

std::string with_renamed(std::string_view text, std::string_view from, std::string_view to) {
    const auto parts = parts_of(text);
    if (!parts) return std::string(text);
    std::string renamed;
    for (const TextPart& part : *parts)
        renamed += !part.variable ? escaped(part.text) : "{" + (part.text == from ? std::string(to) : part.text) + "}";
    return renamed;
}

} // namespace touchmark::content
