// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/dashes.h"
#include "core/content/stroke.h"
#include "core/content/svg_document.h"
#include "core/content/svg_values.h"
#include "core/geometry/outline.h"

#include <functional>
#include <optional>

namespace touchmark::content::svg {

/// What an area is painted with, as far as a mark cares.
enum class Paint { none, solid, white, server };

/// The properties that reach a shape; inherited ones first.
struct Style {
    Paint fill = Paint::solid, stroke = Paint::none;
    std::string fill_server, stroke_server; ///< the id that a Paint::server names
    double fill_opacity = 1, stroke_opacity = 1;
    geometry::FillRule fill_rule = geometry::FillRule::nonzero, clip_rule = geometry::FillRule::nonzero;
    std::string stroke_width = "1";
    StrokeStyle pen;
    std::string dashes, dash_offset = "0"; ///< empty: a full line
    bool has_markers = false, visible = true;
    Paint colour = Paint::solid; ///< what "currentColor" means
    double font_size = 16;
    // Not inherited.
    bool shown = true;
    double opacity = 1;
    std::string clip, mask, filter;
    bool fixed_stroke = false; ///< vector-effect: non-scaling-stroke
};

/// SVG 2, 13.5.6: an odd list is gone through twice; one with a negative length, or without any, draws a full line.
[[nodiscard]] std::optional<DashPattern> dash_pattern(const Style& style, const LengthContext& context);

/// The rules of <style> elements: lists of simple selectors (element, .class, #id and both together).
class StyleSheet {
public:
    using Said = std::function<void(std::string)>;
    /// `note` hears of selectors that are not understood.
    void read(std::string_view css, const Said& note);
    /// The element's style under its parent's: presentation attributes, then rules by their weight, then its own style
    /// attribute (SVG 2, 6.6).
    [[nodiscard]] Style style(const Element& element, const Style& parent) const;

private:
    struct Rule {
        std::string element, id;
        std::vector<std::string> classes;
        std::vector<std::pair<std::string, std::string>> declarations;
        [[nodiscard]] bool matches(const Element& element) const;
        [[nodiscard]] std::size_t weight() const;
    };
    std::vector<Rule> rules_; ///< by weight, then order
};

} // namespace touchmark::content::svg
