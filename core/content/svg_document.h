// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::content::svg {

/// An element of the drawing; names are without their namespace prefix, foreign elements are marked.
struct Element {
    std::string name;
    bool foreign = false; ///< of another namespace than SVG's: an editor's own data
    std::map<std::string, std::string, std::less<>> attributes;
    std::vector<std::unique_ptr<Element>> children;
    std::string text; ///< character data directly inside

    /// Empty when absent.
    [[nodiscard]] std::string_view attribute(std::string_view key) const;
};

struct Document {
    std::unique_ptr<Element> root;
    std::map<std::string, const Element*, std::less<>> by_id;
};

// An icon has tens of elements, a map tens of thousands.
inline constexpr std::size_t most_elements = 200'000;
inline constexpr int deepest_element = 200;

/// REQUIRES: UTF-8. No external entity is ever followed. Errors: "content.art_malformed" with the line,
/// "content.art_too_complex".
[[nodiscard]] Result<Document> parse_document(std::string_view text);

} // namespace touchmark::content::svg
