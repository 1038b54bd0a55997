// SPDX-License-Identifier: MIT
#include "core/content/worst_lettering.h"

#include "core/content/serial_range.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <functional>
#include <unordered_map>

namespace touchmark::content {
namespace {

constexpr double hair = 1e-6; ///< mm; less makes no case of its own

/// What stands where in the first unit.
struct Place {
    std::optional<std::size_t> group;
    std::size_t name = 0; ///< within the group
    std::u32string text;
    char32_t before = 0, after = 0; ///< the letters around; 0 at the ends of a line
    std::size_t line = 0;
};

class Search {
public:
    Search(const std::vector<ExpandedPart>& first, const std::vector<ValueGroup>& groups, const Measures& measures)
        : groups_(groups), ask_(measures) {
        for (const ExpandedPart& part : first)
            add(part);
        for (std::size_t i = 0; i < places_.size(); ++i) {
            const auto beside = [&](std::size_t k) { return k < places_.size() && places_[k].line == places_[i].line; };
            if (i > 0 && beside(i - 1)) places_[i].before = places_[i - 1].text.back();
            if (beside(i + 1)) places_[i].after = places_[i + 1].text.front();
        }
    }

    [[nodiscard]] std::vector<Choice> widest();
    /// The value that holds the letter, or the neighbours, whose figure is smallest.
    [[nodiscard]] std::vector<Choice> thinnest() {
        return least([this](char32_t c) { return of(c).stroke; }, false);
    }
    [[nodiscard]] std::vector<Choice> tightest() {
        return least([this](char32_t c) { return of(c).gap; }, true);
    }
    [[nodiscard]] std::vector<Choice> lacking() {
        return least([this](char32_t c) { return of(c).missing ? 0 : LetterMeasure::none; }, false);
    }
    [[nodiscard]] std::vector<Choice> tallest() {
        constexpr double line = 1000; // more lines outdo every letter
        return least([this](char32_t c) { return c == U'\n' ? -line : std::min(of(c).low, 0.0) - of(c).high; }, false);
    }

private:
    using Figure = std::function<double(char32_t)>;

    void add(const ExpandedPart& part) {
        Place place;
        for (std::size_t g = 0; g < groups_.size() && !part.name.empty(); ++g) {
            const auto& names = groups_[g].names;
            const auto name = std::ranges::find(names, part.name);
            if (name != names.end()) place.group = g, place.name = static_cast<std::size_t>(name - names.begin());
        }
        std::u32string text = decode_utf8(part.text).value_or(std::u32string());
        while (!place.group) { // a group's value stays whole, whatever is in it
            const auto end = text.find(U'\n');
            place.text = text.substr(0, end);
            place.line = line_;
            if (!place.text.empty()) places_.push_back(place);
            if (end == std::u32string::npos) return;
            text.erase(0, end + 1);
            ++line_;
        }
        place.text = std::move(text);
        place.line = line_;
        if (!place.text.empty()) places_.push_back(std::move(place));
    }

    const LetterMeasure& of(char32_t letter) {
        const auto known = letters_.find(letter);
        return known != letters_.end() ? known->second : letters_.emplace(letter, ask_.letter(letter)).first->second;
    }
    double between(char32_t a, char32_t b) {
        if (a == 0 || b == 0 || a == U'\n' || b == U'\n') return LetterMeasure::none;
        const std::uint64_t key = static_cast<std::uint64_t>(a) << 32 | b;
        if (const auto known = gaps_.find(key); known != gaps_.end()) return known->second;
        const LetterMeasure &left = of(a), &right = of(b); // a reference stays while others come
        return gaps_.emplace(key, gap_between(left, right)).first->second;
    }
    /// Of its ink where the line begins and ends with it.
    double width(const std::u32string& text, const Place& place) {
        double sum = 0;
        for (const char32_t c : text)
            if (c != U'\n') sum += of(c).advance;
        if (!text.empty() && place.before == 0) sum -= of(text.front()).before_ink();
        if (!text.empty() && place.after == 0) sum -= of(text.back()).behind_ink();
        return sum;
    }
    double least_in(const std::u32string& text, const Place& place, const Figure& figure, bool pairs) {
        double least = LetterMeasure::none;
        for (std::size_t i = 0; i < text.size(); ++i) {
            least = std::min(least, figure(text[i]));
            if (pairs) least = std::min(least, between(i == 0 ? place.before : text[i - 1], text[i]));
        }
        return pairs && !text.empty() ? std::min(least, between(text.back(), place.after)) : least;
    }
    [[nodiscard]] ValueGroup::Candidate numbered(const Serial& serial, std::int64_t number) const {
        return {{decode_utf8(serial.text(number)).value()}, 0};
    }

    std::vector<Choice> least(const Figure& figure, bool pairs);
    std::optional<std::pair<double, ValueGroup::Candidate>> least_number(std::size_t group, double below,
                                                                         const Figure& figure, bool pairs);
    std::int64_t widest_number(const Serial& serial, const std::vector<const Place*>& places);
    std::optional<Choice> widest_of(std::size_t group, std::size_t line, double& width);

    const std::vector<ValueGroup>& groups_;
    const Measures& ask_;
    std::vector<Place> places_;
    std::size_t line_ = 0;
    std::unordered_map<char32_t, LetterMeasure> letters_;
    std::unordered_map<std::uint64_t, double> gaps_;
};

char32_t figure_of(int digit) {
    return U'0' + static_cast<char32_t>(digit);
}

std::int64_t Search::widest_number(const Serial& serial, const std::vector<const Place*>& places) {
    const auto weight = [&](int digit, int right) {
        const LetterMeasure& letter = of(figure_of(digit));
        double sum = 0;
        for (const Place* place : places)
            sum += letter.advance - (right < 0 && place->after == 0 ? letter.behind_ink() : 0);
        return sum;
    };
    const auto lead = [&](int digit) {
        double sum = 0;
        for (const Place* place : places)
            if (place->before == 0) sum -= of(figure_of(digit)).before_ink();
        return sum;
    };
    return heaviest(serial, weight, lead).number;
}

/// The group's widest value on that line; what it adds to the line's width goes into `width`.
std::optional<Choice> Search::widest_of(std::size_t g, std::size_t line, double& width) {
    const ValueGroup& group = groups_[g];
    std::vector<const Place*> places;
    for (const Place& place : places_)
        if (place.group == g && place.line == line) places.push_back(&place);
    if (places.empty()) return std::nullopt;
    const auto total = [&](const ValueGroup::Candidate& candidate) {
        double sum = 0;
        for (const Place* place : places)
            sum += this->width(candidate.values[place->name], *place);
        return sum;
    };
    if (group.serial) {
        const double first = total(group.candidates.front());
        auto found = numbered(*group.serial, widest_number(*group.serial, places));
        width += std::max(first, total(found));
        return total(found) > first + hair ? std::optional(Choice{g, std::move(found)}) : std::nullopt;
    }
    // Letters move closer beside some others: the widest few are drawn.
    constexpr std::size_t most_drawn = 8;
    std::vector<std::pair<double, const ValueGroup::Candidate*>> widest;
    for (const ValueGroup::Candidate& candidate : group.candidates) {
        const auto at =
            std::ranges::find_if(widest, [sum = total(candidate)](const auto& one) { return one.first < sum; });
        if (at - widest.begin() < static_cast<std::ptrdiff_t>(most_drawn))
            widest.insert(at, {total(candidate), &candidate});
        if (widest.size() > most_drawn) widest.pop_back();
    }
    const auto drawn = [&](const ValueGroup::Candidate& candidate) {
        std::u32string whole;
        for (const Place& place : places_)
            if (place.line == line) whole += place.group == g ? candidate.values[place.name] : place.text;
        return ask_.width(encode_utf8(whole));
    };
    double best = drawn(group.candidates.front());
    const ValueGroup::Candidate* chosen = nullptr;
    for (const auto& [sum, candidate] : widest)
        if (const double drawn_width = drawn(*candidate); drawn_width > best + hair)
            best = drawn_width, chosen = candidate;
    width += widest.front().first;
    return chosen ? std::optional(Choice{g, *chosen}) : std::nullopt;
}

std::vector<Choice> Search::widest() {
    double widest = -1;
    std::vector<Choice> choices;
    for (std::size_t line = 0; line <= line_; ++line) {
        double width = 0;
        std::vector<Choice> chosen;
        for (const Place& place : places_)
            if (!place.group && place.line == line) width += this->width(place.text, place);
        for (std::size_t g = 0; g < groups_.size(); ++g)
            if (auto choice = widest_of(g, line, width)) chosen.push_back(std::move(*choice));
        if (width > widest + hair) widest = width, choices = std::move(chosen);
    }
    return choices;
}

/// Goes through what digits and neighbours the numbers may hold, the worst first, until one of them occurs.
std::optional<std::pair<double, ValueGroup::Candidate>> Search::least_number(std::size_t group, double below,
                                                                             const Figure& figure, bool pairs) {
    struct Feature {
        double figure;
        char32_t left, right; ///< right 0: a digit; left or right no digit: a neighbour
    };
    const Serial& serial = *groups_[group].serial;
    std::vector<Feature> features;
    for (int digit = 0; digit < 10; ++digit) {
        const char32_t c = figure_of(digit);
        features.push_back({figure(c), c, 0});
        for (int right = 0; right < 10 && pairs; ++right)
            features.push_back({between(c, figure_of(right)), c, figure_of(right)});
        for (const Place& place : places_)
            if (pairs && place.group == group)
                features.insert(features.end(),
                                {{between(place.before, c), U'<', c}, {between(c, place.after), c, U'>'}});
    }
    std::ranges::stable_sort(features, {}, &Feature::figure);
    for (const Feature& feature : features) {
        if (!(feature.figure < below - hair)) return std::nullopt;
        const auto weight = [&](int digit, int right) {
            const char32_t c = figure_of(digit), beside = right < 0 ? U'>' : figure_of(right);
            return feature.left == c && (feature.right == 0 || feature.right == beside) ? 1.0 : 0.0;
        };
        const auto lead = [&](int digit) {
            return feature.left == U'<' && feature.right == figure_of(digit) ? 1.0 : 0.0;
        };
        if (const Heaviest found = heaviest(serial, weight, lead); found.weight > 0)
            return std::pair(feature.figure, numbered(serial, found.number));
    }
    return std::nullopt;
}

std::vector<Choice> Search::least(const Figure& figure, bool pairs) {
    double best = LetterMeasure::none;
    for (const Place& place : places_)
        best = std::min(best, least_in(place.text, place, figure, pairs));
    std::vector<Choice> choices;
    for (std::size_t g = 0; g < groups_.size(); ++g) {
        if (groups_[g].serial) {
            if (auto found = least_number(g, best, figure, pairs))
                best = found->first, choices = {{g, std::move(found->second)}};
            continue;
        }
        for (const ValueGroup::Candidate& candidate : groups_[g].candidates)
            for (const Place& place : places_) {
                if (place.group != g) continue;
                const double least = least_in(candidate.values[place.name], place, figure, pairs);
                if (least < best - hair) best = least, choices = {{g, candidate}};
            }
    }
    return choices;
}

} // namespace

std::vector<WorstLettering> worst_lettering(const std::vector<ExpandedPart>& first,
                                            const std::vector<ValueGroup>& groups, const Measures& measures) {
    if (groups.empty()) return {};
    Search search(first, groups, measures);
    return {{Worst::widest, search.widest()},
            {Worst::tallest, search.tallest()},
            {Worst::thinnest, search.thinnest()},
            {Worst::tightest, search.tightest()},
            {Worst::lacking, search.lacking()}};
}

} // namespace touchmark::content
