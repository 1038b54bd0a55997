// SPDX-License-Identifier: MIT
#include "core/base/words.h"

#include <cassert>
#include <utility>

namespace touchmark {
namespace {

template <class T> struct Word {
    T value;
    std::string_view key, title;
};
constexpr Word<Mode> mode_words[] = {{Mode::engrave, "engrave", "Engrave"},
                                     {Mode::raise, "raise", "Raise"},
                                     {Mode::hidden, "hidden", "Hide inside"},
                                     {Mode::inlay, "inlay", "Inlay"},
                                     {Mode::through, "through", "Cut through"}};
constexpr Word<Laying> laying_words[] = {{Laying::wrap, "wrap", "Wrapped"}, {Laying::project, "project", "Projected"}};
constexpr Word<Floor> floor_words[] = {{Floor::offset, "offset", "Like the face"}, {Floor::flat, "flat", "Flat"}};
constexpr Word<Zone> zone_words[] = {{Zone::bottom, "bottom", "Bottom"},
                                     {Zone::overhang, "overhang", "Overhang"},
                                     {Zone::side_wall, "side_wall", "Side wall"},
                                     {Zone::slope, "slope", "Slope"},
                                     {Zone::top, "top", "Top"}};

template <class T, std::size_t N> const Word<T>& word(const Word<T> (&words)[N], T value) {
    for (const auto& entry : words)
        if (entry.value == value) return entry;
    assert(!"every value has its word");
    std::unreachable();
}
template <class T, std::size_t N> std::optional<T> value(const Word<T> (&words)[N], std::string_view key) {
    for (const auto& entry : words)
        if (entry.key == key) return entry.value;
    return std::nullopt;
}

} // namespace

std::string_view key_of(Mode mode) {
    return word(mode_words, mode).key;
}
std::string_view key_of(Zone zone) {
    return word(zone_words, zone).key;
}
std::string_view key_of(Laying laying) {
    return word(laying_words, laying).key;
}
std::string_view key_of(Floor floor) {
    return word(floor_words, floor).key;
}
std::string_view title_of(Mode mode) {
    return word(mode_words, mode).title;
}
std::string_view title_of(Zone zone) {
    return word(zone_words, zone).title;
}
std::optional<Mode> mode_from(std::string_view key) {
    return value(mode_words, key);
}
std::optional<Zone> zone_from(std::string_view key) {
    return value(zone_words, key);
}
std::optional<Laying> laying_from(std::string_view key) {
    return value(laying_words, key);
}
std::optional<Floor> floor_from(std::string_view key) {
    return value(floor_words, key);
}

} // namespace touchmark
