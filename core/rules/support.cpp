// SPDX-License-Identifier: MIT
#include "core/rules/support.h"

#include "core/base/number_text.h"

#include <array>
#include <charconv>
#include <cmath>

namespace touchmark::rules {
namespace {

std::string fixed(double value, int decimals) {
    std::array<char, 400> buffer{};
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
    return {buffer.data(), end.ptr};
}

} // namespace

Finding finding_of(std::string_view rule, const MarkView& view, Severity severity) {
    Finding finding;
    finding.rule = rule;
    finding.severity = severity;
    finding.mark = view.mark->id;
    if (const Rule* row = find_rule(rule)) finding.why = row->why;
    return finding;
}

std::optional<Severity> at_least(double figure, const process::Limit& limit) {
    if (figure < limit.hard.value - same) return Severity::blocker;
    if (figure < limit.comfortable.value - same) return Severity::warning;
    return std::nullopt;
}

std::optional<Severity> at_most(double figure, const process::Limit& limit) {
    if (figure > limit.hard.value + same) return Severity::blocker;
    if (figure > limit.comfortable.value + same) return Severity::warning;
    return std::nullopt;
}

void set_figures(Finding& finding, double figure, const process::Limit& limit) {
    finding.figure = figure;
    finding.limit = limit.hard.value;
    finding.comfortable = limit.comfortable.value;
    finding.unit = limit.unit;
    finding.source = finding.severity == Severity::blocker ? limit.hard.source : limit.comfortable.source;
}

void soften(Finding& finding) {
    finding.severity = finding.severity == Severity::blocker ? Severity::warning : Severity::advice;
}

double missed(const Finding& finding) {
    return finding.severity == Severity::blocker ? finding.limit : finding.comfortable.value_or(finding.limit);
}

std::string apart(double figure, double other) {
    std::string text = number_text(figure);
    for (int decimals = 3; decimals <= 6 && (text == number_text(other) || text == fixed(other, decimals - 1));
         ++decimals)
        text = fixed(figure, decimals);
    return text + " mm";
}

std::string short_number(double value) {
    std::string text = fixed(value, 2);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string change_of(double from, double to) {
    return short_number(from) + " → " + short_number(to) + " mm";
}

std::string in_quotes(std::string_view label) {
    return "'" + std::string(label) + "'";
}

std::string some_of(std::span<const std::string> labels, std::size_t shown) {
    // One more name is shorter than "and 1 more".
    const std::size_t count = labels.size() <= shown + 1 ? labels.size() : shown;
    std::string text;
    for (std::size_t i = 0; i < count; ++i) {
        if (i) text += i + 1 == labels.size() ? " and " : ", ";
        text += labels[i];
    }
    if (count < labels.size()) text += " and " + std::to_string(labels.size() - count) + " more";
    return text;
}

Vec2 rise_on_map(const MarkView& view) {
    const Vec2 at = view.mark->anchor.at;
    const Vec3 normal = view.map->normal(at), x = view.map->x_direction(at);
    return {dot(x, view.upward), dot(cross(normal, x), view.upward)};
}

Vec2 on_map(const MarkView& view, Vec2 on_mark) {
    return surface::placement(view.mark->anchor.at, view.mark->anchor.turn)(on_mark);
}

void locate(Finding& finding, const MarkView& view, std::vector<Vec2> where, double extent_mm) {
    if (where.size() > most_spots) where.resize(most_spots);
    finding.where = std::move(where);
    finding.extent_mm = extent_mm;
    finding.where_on_part.clear();
    if (!view.map) return;
    for (const Vec2 spot : finding.where)
        finding.where_on_part.push_back(view.map->point(spot));
}

void locate_whole(Finding& finding, const MarkView& view) {
    const double extent = view.drawn ? std::max(view.drawn->extent.width(), view.drawn->extent.height()) : 1.0;
    locate(finding, view, {view.mark->anchor.at}, extent);
}

const content::Text* text_of(const job::Mark& mark) {
    return std::get_if<content::Text>(&mark.content);
}

std::string_view relief_of(Mode mode) {
    switch (mode) {
    case Mode::engrave:
        return "cut";
    case Mode::raise:
        return "raised";
    case Mode::hidden:
        return "hidden inside";
    case Mode::inlay:
        return "inlaid";
    case Mode::through:
        return "cut through";
    }
    std::unreachable();
}

} // namespace touchmark::rules
