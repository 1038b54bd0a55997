// SPDX-License-Identifier: MIT
#include "core/pipeline/worst_cases.h"

namespace touchmark::pipeline {
namespace {

/// Letters and cases of lettering are the same at every size.
constexpr Mm measured_height{5};

Digest style_key(content::Text style, const content::FontLibrary* fonts) {
    style.text.clear();
    Digester digester;
    content::add(digester, content::Content(std::move(style)));
    return digester.add(reinterpret_cast<std::uintptr_t>(fonts)).digest();
}

content::LetterMeasure measured(Store& store, const content::Text& style, const Digest& key, char32_t letter,
                                const content::FontLibrary& fonts, const Progress& progress) {
    const auto made = store.letter_measures.get(Digester().add(key).add(letter).digest(), progress,
                                                [&]() -> Result<std::shared_ptr<const content::LetterMeasure>> {
                                                    return std::make_shared<const content::LetterMeasure>(
                                                        content::measure_letter(style, letter, fonts));
                                                });
    return made ? **made : content::LetterMeasure{};
}

} // namespace

std::shared_ptr<const std::vector<content::WorstCase>>
worst_cases(Store& store, const content::Content& content, const content::Variables& variables, content::Day day,
            const std::shared_ptr<const content::FontLibrary>& fonts, const Progress& progress) {
    using Cases = std::vector<content::WorstCase>;
    const std::string* text = content::text_with_variables(content);
    const auto first_alone = [] { return std::make_shared<const Cases>(1); };
    if (!text || !content::has_braces(*text)) return first_alone();
    content::Content shape = content;
    if (const auto* lettering = std::get_if<content::Text>(&content); lettering && lettering->cap_height.value > 0)
        shape = content::in_proportion(*lettering, measured_height);
    const auto style = content::lettering_of(shape).value_or(content::Text{});
    const Digest letters = style_key(style, fonts.get());
    Digester key;
    content::add(key, shape);
    content::add(key, variables);
    key.add(letters).add(content::text_of(day));
    const auto found = store.worst_cases.get(key.digest(), progress, [&]() -> Result<std::shared_ptr<const Cases>> {
        return std::make_shared<const Cases>(content::worst_cases(
            shape, variables, {0, day},
            {[&](char32_t letter) { return measured(store, style, letters, letter, *fonts, progress); },
             [&](const std::string& line) { return content::measure_line(style, line, *fonts); }}));
    });
    return found ? *found : first_alone();
}

} // namespace touchmark::pipeline
