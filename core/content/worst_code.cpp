// SPDX-License-Identifier: MIT
#include "core/content/worst_code.h"

#include "core/content/code.h"
#include "core/content/utf8.h"

#include <algorithm>
#include <set>

namespace touchmark::content {
namespace {

constexpr std::size_t most_encoded = 300; ///< values; of more one of each make is tried

/// What decides how many codewords a value takes: its letters told apart no further than the symbologies do.
std::u32string make_of(const ValueGroup::Candidate& candidate) {
    std::u32string make;
    for (const std::u32string& value : candidate.values) {
        for (const char32_t c : value)
            make += c >= U'0' && c <= U'9' ? U'0' : c >= U'A' && c <= U'Z' ? U'A' : c >= U'a' && c <= U'z' ? U'a' : c;
        make += U'\n';
    }
    return make;
}

/// Serial numbers of one length differ in nothing that matters: the last one of each length.
std::vector<ValueGroup::Candidate> numbers_of(const Serial& serial) {
    std::vector<ValueGroup::Candidate> numbers;
    std::int64_t power = 10;
    for (int length = 1; length <= 18; ++length, power *= 10) {
        if (power <= serial.start) continue;
        const std::int64_t last =
            std::min(serial.last(), serial.start + (power - 1 - serial.start) / serial.step * serial.step);
        numbers.push_back({{decode_utf8(serial.text(last)).value()}, 0});
        if (last == serial.last()) break;
    }
    return numbers;
}

std::vector<ValueGroup::Candidate> tried(const ValueGroup& group) {
    if (group.serial) return numbers_of(*group.serial);
    if (group.candidates.size() <= most_encoded) return group.candidates;
    std::vector<ValueGroup::Candidate> some;
    std::set<std::u32string> seen;
    for (const ValueGroup::Candidate& candidate : group.candidates)
        if (seen.insert(make_of(candidate)).second) some.push_back(candidate);
    return some;
}

/// Modules of the symbol; more than any where there is none.
double size_of(const Result<Content>& content) {
    const auto* code = content ? std::get_if<Code>(&*content) : nullptr;
    const auto symbol = code ? encode(*code) : Result<Symbol>(std::unexpected(Error{}));
    return symbol ? static_cast<double>(symbol->modules.columns) * symbol->modules.rows : 1e9;
}

} // namespace

std::vector<Choice> worst_code(const std::vector<ValueGroup>& groups,
                               const std::function<Result<Content>(const std::vector<Choice>&)>& made) {
    std::vector<Choice> choices;
    double largest = size_of(made({}));
    for (std::size_t g = 0; g < groups.size(); ++g) {
        if (groups[g].check) continue; // it follows from the others
        const std::vector<Choice> before = choices;
        for (ValueGroup::Candidate& candidate : tried(groups[g])) {
            std::vector<Choice> with = before;
            with.push_back({g, std::move(candidate)});
            const double size = size_of(made(with));
            if (size > largest) largest = size, choices = std::move(with);
        }
    }
    return choices;
}

} // namespace touchmark::content
