// SPDX-License-Identifier: MIT
#include "core/content/svg_style.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace touchmark::content::svg {
namespace {

constexpr std::size_t most_rules = 10'000;

std::string_view trimmed(std::string_view text) {
    const auto space = [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; };
    while (!text.empty() && space(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && space(text.back()))
        text.remove_suffix(1);
    return text;
}

std::vector<std::string_view> parts(std::string_view text, char separator) {
    std::vector<std::string_view> out;
    for (;;) {
        const auto at = text.find(separator);
        out.push_back(trimmed(text.substr(0, at)));
        if (at == std::string_view::npos) return out;
        text.remove_prefix(at + 1);
    }
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::ranges::transform(out, out.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

/// "url(#id)", with or without quotes → id
std::string reference_in(std::string_view value) {
    const auto open = value.find('#'), close = value.find(')');
    if (!value.starts_with("url(") || open == value.npos || close == value.npos || close < open) return {};
    std::string id(value.substr(open + 1, close - open - 1));
    std::erase_if(id, [](char c) { return c == '"' || c == '\'' || c == ' '; });
    return id;
}

/// Three, four, six or eight hexadecimal digits, or a function of three numbers: white, transparent or neither.
Paint colour_of(const std::string& value) {
    if (value == "white") return Paint::white;
    if (value == "transparent") return Paint::none;
    if (value.starts_with('#')) {
        const bool brief = value.size() == 4 || value.size() == 5;
        const std::size_t alpha = brief ? 4 : 7;
        if (value.size() > alpha && value.find_first_not_of('0', alpha) == value.npos) return Paint::none;
        return value.find_first_not_of('f', 1) >= alpha ? Paint::white : Paint::solid;
    }
    if (value.starts_with("rgb")) {
        std::string inside;
        for (const char c : value.substr(std::min(value.size(), value.find('(') + 1)))
            inside += c == ')' || c == '/' || c == '%' ? ' ' : c;
        const bool percent = value.find('%') != value.npos;
        const auto numbers = parse_numbers(inside);
        if (!numbers || numbers->size() < 3) return Paint::solid;
        if (numbers->size() > 3 && (*numbers)[3] == 0) return Paint::none;
        const double full = percent ? 100 : 255;
        return std::all_of(numbers->begin(), numbers->begin() + 3, [&](double one) { return one >= full; })
                   ? Paint::white
                   : Paint::solid;
    }
    return Paint::solid;
}

void set_paint(std::string_view given, Paint current, Paint& paint, std::string& server) {
    const std::string value = lower(given);
    server.clear();
    if (value == "none") {
        paint = Paint::none;
    } else if (value == "currentcolor") {
        paint = current;
    } else if (value.starts_with("url(")) {
        paint = Paint::server;
        server = reference_in(given);
    } else {
        paint = colour_of(value);
    }
}

double opacity_of(std::string_view value) {
    const auto number = parse_length(value, {.percent_of = 1});
    return number ? std::clamp(*number, 0.0, 1.0) : 1;
}

LineCap cap_of(std::string_view value) {
    return value == "round" ? LineCap::round : value == "square" ? LineCap::square : LineCap::butt;
}
LineJoin join_of(std::string_view value) {
    return value == "round" ? LineJoin::round : value == "bevel" ? LineJoin::bevel : LineJoin::miter;
}
geometry::FillRule rule_of(std::string_view value) {
    return value == "evenodd" ? geometry::FillRule::evenodd : geometry::FillRule::nonzero;
}

/// Properties that only repeat another one's grammar are left to their row.
struct Property {
    std::string_view name;
    void (*set)(Style&, std::string_view);
};
constexpr Property properties[] = {
    {"fill", [](Style& s, std::string_view v) { set_paint(v, s.colour, s.fill, s.fill_server); }},
    {"stroke", [](Style& s, std::string_view v) { set_paint(v, s.colour, s.stroke, s.stroke_server); }},
    {"fill-opacity", [](Style& s, std::string_view v) { s.fill_opacity = opacity_of(v); }},
    {"stroke-opacity", [](Style& s, std::string_view v) { s.stroke_opacity = opacity_of(v); }},
    {"opacity", [](Style& s, std::string_view v) { s.opacity = opacity_of(v); }},
    {"fill-rule", [](Style& s, std::string_view v) { s.fill_rule = rule_of(v); }},
    {"clip-rule", [](Style& s, std::string_view v) { s.clip_rule = rule_of(v); }},
    {"stroke-width", [](Style& s, std::string_view v) { s.stroke_width = v; }},
    {"stroke-linecap", [](Style& s, std::string_view v) { s.pen.cap = cap_of(v); }},
    {"stroke-linejoin", [](Style& s, std::string_view v) { s.pen.join = join_of(v); }},
    {"stroke-miterlimit",
     [](Style& s, std::string_view v) { s.pen.miter_limit = std::max(1.0, parse_length(v, {}).value_or(4)); }},
    {"stroke-dasharray", [](Style& s, std::string_view v) { s.dashes = v == "none" ? std::string_view() : v; }},
    {"stroke-dashoffset", [](Style& s, std::string_view v) { s.dash_offset = v; }},
    {"marker-start", [](Style& s, std::string_view v) { s.has_markers |= v != "none"; }},
    {"marker-mid", [](Style& s, std::string_view v) { s.has_markers |= v != "none"; }},
    {"marker-end", [](Style& s, std::string_view v) { s.has_markers |= v != "none"; }},
    {"marker", [](Style& s, std::string_view v) { s.has_markers = v != "none"; }},
    {"visibility", [](Style& s, std::string_view v) { s.visible = v == "visible"; }},
    {"display", [](Style& s, std::string_view v) { s.shown = v != "none"; }},
    {"clip-path", [](Style& s, std::string_view v) { s.clip = v == "none" ? "" : reference_in(v); }},
    {"mask", [](Style& s, std::string_view v) { s.mask = v == "none" ? "" : v; }},
    {"filter", [](Style& s, std::string_view v) { s.filter = v == "none" ? "" : v; }},
    {"vector-effect", [](Style& s, std::string_view v) { s.fixed_stroke = v == "non-scaling-stroke"; }},
    {"font-size",
     [](Style& s, std::string_view v) {
         s.font_size = parse_length(v, {.percent_of = s.font_size, .font_size = s.font_size}).value_or(s.font_size);
     }},
};

/// Of one declaration; "inherit" keeps what came from the parent.
void apply(Style& style, std::string_view name, std::string_view value) {
    if (const auto important = value.find('!'); important != value.npos) value = trimmed(value.substr(0, important));
    if (value == "inherit" || value.empty()) return;
    const auto row = std::ranges::find(properties, name, &Property::name);
    if (row != std::end(properties)) row->set(style, value);
}

std::vector<std::pair<std::string, std::string>> declarations_in(std::string_view text) {
    std::vector<std::pair<std::string, std::string>> out;
    for (const std::string_view one : parts(text, ';')) {
        const auto colon = one.find(':');
        if (colon == one.npos) continue;
        out.emplace_back(lower(trimmed(one.substr(0, colon))), trimmed(one.substr(colon + 1)));
    }
    // "currentColor" has to know the colour.
    std::ranges::stable_partition(out, [](const auto& one) { return one.first == "color"; });
    return out;
}

void apply_all(Style& style, const std::vector<std::pair<std::string, std::string>>& declarations) {
    for (const auto& [name, value] : declarations)
        if (name == "color") {
            std::string server;
            set_paint(value, style.colour, style.colour, server);
        }
    for (const auto& [name, value] : declarations)
        apply(style, name, value);
}

std::string without_comments(std::string_view css) {
    std::string out;
    for (;;) {
        const auto open = css.find("/*");
        out += css.substr(0, open);
        if (open == css.npos) return out;
        const auto close = css.find("*/", open + 2);
        if (close == css.npos) return out;
        css.remove_prefix(close + 2);
    }
}

} // namespace

std::optional<DashPattern> dash_pattern(const Style& style, const LengthContext& context) {
    constexpr std::size_t longest = 10'000;
    DashPattern pattern;
    double sum = 0;
    for (std::string_view rest = style.dashes; !rest.empty();) {
        const auto end = std::min(rest.find_first_of(", \t\r\n"), rest.size());
        if (end > 0) {
            const auto one = parse_length(rest.substr(0, end), context);
            if (!one || *one < 0) return std::nullopt;
            pattern.lengths.push_back(*one);
            sum += *one;
        }
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    if (!(sum > 0) || !std::isfinite(sum) || pattern.lengths.size() > longest) return std::nullopt;
    if (pattern.lengths.size() % 2 == 1) {
        const std::vector<double> once = pattern.lengths;
        pattern.lengths.insert(pattern.lengths.end(), once.begin(), once.end());
    }
    pattern.offset = parse_length(style.dash_offset, context).value_or(0);
    return pattern;
}

void StyleSheet::read(std::string_view given, const Said& note) {
    const std::string css = without_comments(given);
    std::string_view rest = css;
    for (auto open = rest.find('{'); open != rest.npos && rules_.size() < most_rules; open = rest.find('{')) {
        const std::string_view selectors = trimmed(rest.substr(0, open));
        const auto close = rest.find('}', open);
        const auto declarations = declarations_in(rest.substr(open + 1, close - open - 1));
        rest = close == rest.npos ? std::string_view() : rest.substr(close + 1);
        for (const std::string_view selector : parts(selectors, ',')) {
            Rule rule;
            bool plain = !selector.empty();
            for (std::size_t i = 0; i < selector.size() && plain;) {
                const auto end = std::min(selector.find_first_of(".#", i + 1), selector.size());
                const std::string_view name = selector.substr(i, end - i);
                plain = name.find_first_of(" \t\r\n>+~:[@()\\") == name.npos;
                if (name[0] == '.')
                    rule.classes.emplace_back(name.substr(1));
                else if (name[0] == '#')
                    rule.id = name.substr(1);
                else if (name != "*")
                    rule.element = name;
                i = end;
            }
            rule.declarations = declarations;
            if (plain)
                rules_.push_back(std::move(rule));
            else
                note("style rules for “" + std::string(selector.substr(0, 40)) + "”");
        }
    }
    std::ranges::stable_sort(rules_, {}, &Rule::weight);
}

bool StyleSheet::Rule::matches(const Element& one) const {
    if (!element.empty() && element != one.name) return false;
    if (!id.empty() && id != one.attribute("id")) return false;
    if (classes.empty()) return true;
    std::string list(one.attribute("class"));
    std::ranges::replace_if(list, [](unsigned char c) { return std::isspace(c) != 0; }, ' ');
    const auto given = parts(list, ' ');
    return std::ranges::all_of(classes,
                               [&](const std::string& name) { return std::ranges::find(given, name) != given.end(); });
}

std::size_t StyleSheet::Rule::weight() const {
    return (id.empty() ? 0 : 10'000) + 100 * classes.size() + (element.empty() ? 0 : 1);
}

Style StyleSheet::style(const Element& element, const Style& parent) const {
    Style style = parent;
    style.shown = true;
    style.opacity = 1;
    style.clip.clear(), style.mask.clear(), style.filter.clear();
    style.fixed_stroke = false;
    std::vector<std::pair<std::string, std::string>> declarations;
    for (const auto& [name, value] : element.attributes)
        if (name == "color" || std::ranges::find(properties, name, &Property::name) != std::end(properties))
            declarations.emplace_back(name, trimmed(value));
    for (const Rule& rule : rules_)
        if (rule.matches(element))
            declarations.insert(declarations.end(), rule.declarations.begin(), rule.declarations.end());
    for (auto& one : declarations_in(element.attribute("style")))
        declarations.push_back(std::move(one));
    apply_all(style, declarations);
    return style;
}

} // namespace touchmark::content::svg
