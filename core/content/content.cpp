// SPDX-License-Identifier: MIT
#include "core/content/content.h"

#include "core/content/text.h"

namespace touchmark::content {

Result<Drawn> draw(const Content& content, const FontLibrary& fonts) {
    return std::visit([&](const Text& text) { return draw_text(text, fonts); }, content);
}

void add(Digester& digester, const Content& content) {
    digester.add(content.index());
    const auto& text = std::get<Text>(content);
    digester.add(text.text).add(text.family).add(text.weight).add(text.cap_height.value);
    digester.add(text.letter_spacing.value).add(text.line_spacing).add(text.align);
}

} // namespace touchmark::content
