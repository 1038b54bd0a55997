// SPDX-License-Identifier: MIT
#include "core/content/content.h"

#include "core/base/overloaded.h"
#include "core/content/code.h"
#include "core/content/text.h"

namespace touchmark::content {

const std::string& said_by(const Content& content) {
    return std::visit(Overloaded{[](const Text& text) -> const std::string& { return text.text; },
                                 [](const Code& code) -> const std::string& { return code.message; },
                                 [](const Art& art) -> const std::string& { return art.name; }},
                      content);
}

namespace {

bool fits_by_size(const Text& text) {
    return text.fit_width.value > 0 && text.fit == FitBy::size;
}

} // namespace

Mm size_of(const Content& content) {
    return std::visit(Overloaded{[](const Text& text) { return fits_by_size(text) ? text.fit_width : text.cap_height; },
                                 [](const Code& code) { return code.module; },
                                 [](const Art& art) { return Mm(art.size_mm); }},
                      content);
}

Text in_proportion(Text text, Mm cap_height) {
    const double factor = cap_height / text.cap_height;
    text.letter_spacing = text.letter_spacing * factor;
    text.heavier = text.heavier * factor;
    text.arc_radius = text.arc_radius * factor;
    text.fit_width = text.fit_width * factor;
    text.cap_height = cap_height;
    return text;
}

Text as_drawn(Text text, const Drawn& drawn) {
    if (!(text.fit_width.value > 0)) return text;
    text.fit_width = Mm(0);
    text.cap_height = drawn.cap_height;
    text.letter_spacing = drawn.letter_spacing;
    return text;
}

Content with_size(Content content, Mm size) {
    std::visit(Overloaded{[&](Text& text) { (fits_by_size(text) ? text.fit_width : text.cap_height) = size; },
                          [&](Code& code) {
                              const double factor = size / code.module;
                              code.bar_height = code.bar_height * factor;
                              code.lettering = code.lettering * factor;
                              code.module = size;
                          },
                          [&](Art& art) { art.size_mm = size.value; }},
               content);
    return content;
}

Result<Drawn> draw(const Content& content, const FontLibrary& fonts) {
    return std::visit(Overloaded{[&](const Text& text) { return draw_text(text, fonts); },
                                 [&](const Code& code) { return draw_code(code, fonts); },
                                 [](const Art& art) { return draw_art(art); }},
                      content);
}

void add(Digester& digester, const Content& content) {
    digester.add(content.index());
    std::visit(
        Overloaded{
            [&](const Text& text) {
                digester.add(text.text).add(text.family).add(text.weight).add(text.cap_height.value);
                digester.add(text.letter_spacing.value).add(text.line_spacing).add(text.align);
                digester.add(text.heavier.value).add(text.arc_radius.value).add(text.features);
                digester.add(text.axes).add(text.fit_width.value).add(text.fit);
            },
            [&](const Code& code) {
                digester.add(code.symbology).add(code.message).add(code.module.value);
                digester.add(code.bar_height.value).add(code.version).add(code.level);
                digester.add(code.rectangular).add(code.light_is_mark).add(code.lettering.value).add(code.grooves);
            },
            [&](const Art& art) {
                digester.add(art.name).add(art.scaled_by).add(art.size_mm);
                digester.add(art.drawing ? art.drawing->digest() : Digest{});
            }},
        content);
}

} // namespace touchmark::content
