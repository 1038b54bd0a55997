// SPDX-License-Identifier: MIT
#include "core/deliver/exchange.h"

#include <algorithm>
#include <charconv>
#include <limits>

namespace touchmark::deliver {
namespace {

bool blank(char c) {
    return c == ' ' || c == '\n' || c == '\r' || c == '\t';
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && blank(text.back()))
        text.remove_suffix(1);
    return text;
}

/// Behind the string that begins at `at`; a doubled quote opens the next one at once, which comes to the same.
std::size_t behind_string(std::string_view text, std::size_t at) {
    const std::size_t close = text.find('\'', at + 1);
    return close == std::string_view::npos ? text.size() : close + 1;
}

void add(Record& record, std::string_view argument) {
    if (record.count < Record::most) record.arguments[record.count] = argument;
    ++record.count;
}

/// Calls `part` with what lies between commas outside of parentheses and strings.
template <class Part> void split(std::string_view list, Part&& part) {
    int depth = 0;
    std::size_t begin = 0;
    for (std::size_t at = 0; at < list.size(); ++at) {
        const char c = list[at];
        if (c == '\'') at = behind_string(list, at) - 1;
        if (c == '(') ++depth;
        if (c == ')') --depth;
        if (c != ',' || depth != 0) continue;
        part(trimmed(list.substr(begin, at - begin)));
        begin = at + 1;
    }
    if (!trimmed(list).empty()) part(trimmed(list.substr(begin)));
}

} // namespace

/// Runs over the text once.
class Scanner {
public:
    explicit Scanner(Exchange& out) : out_(out), text_(out.text_) {}

    Status run() {
        constexpr std::string_view opening = "DATA;", closing = "ENDSEC;";
        if (!text_.starts_with("ISO-10303-21;")) return broken("it does not begin as one", 0);
        at_ = text_.find(opening);
        if (at_ == std::string_view::npos) return broken("it has no data section", 0);
        at_ += opening.size();
        skip_blanks();
        out_.data_begin_ = at_;
        while (at_ < text_.size() && text_[at_] == '#')
            if (Status good = instance(); !good) return good;
        out_.data_end_ = at_;
        if (!text_.substr(at_).starts_with(closing)) return broken("a statement is not an entity instance", at_);
        if (text_.find("END-ISO-10303-21;", at_) == std::string_view::npos) return broken("it does not end", at_);
        return resolve();
    }

private:
    [[nodiscard]] static std::unexpected<Error> broken(const std::string& why, std::size_t at) {
        return fail("deliver.verify",
                    "What was written is not a STEP file: " + why + " (byte " + std::to_string(at) + ").",
                    "Nothing was saved.");
    }

    void skip_blanks() {
        while (at_ < text_.size() && blank(text_[at_]))
            ++at_;
    }
    /// 0 when there is none.
    int id() {
        int value = 0;
        const auto [end, error] = std::from_chars(text_.data() + at_ + 1, text_.data() + text_.size(), value);
        if (error != std::errc() || value <= 0) return 0;
        at_ = static_cast<std::size_t>(end - text_.data());
        return value;
    }

    Status instance() {
        Exchange::Instance instance;
        instance.begin = at_;
        instance.references = out_.references_.size();
        instance.id = id();
        if (instance.id == 0) return broken("an instance has no number", at_);
        skip_blanks();
        if (at_ >= text_.size() || text_[at_] != '=') return broken("an instance has no equals sign", at_);
        ++at_;
        if (Status good = body(); !good) return good;
        instance.end = at_;
        instance.last = out_.references_.size();
        skip_blanks();
        if (static_cast<std::size_t>(instance.id) > text_.size())
            return broken("a number is out of range", instance.begin);
        if (out_.index_.size() <= static_cast<std::size_t>(instance.id))
            out_.index_.resize(static_cast<std::size_t>(instance.id) + 1, -1);
        int& place = out_.index_[static_cast<std::size_t>(instance.id)];
        if (place >= 0) return broken("#" + std::to_string(instance.id) + " is given twice", instance.begin);
        place = static_cast<int>(out_.instances_.size());
        out_.instances_.push_back(instance);
        return {};
    }

    Status body() {
        int depth = 0;
        bool any = false;
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '\'') {
                at_ = behind_string(text_, at_);
                continue;
            }
            if (c == '#') {
                const int to = id();
                if (to == 0 || depth == 0) return broken("a reference is out of place", at_);
                out_.references_.push_back(to);
                continue;
            }
            ++at_;
            if (c == '(') ++depth, any = true;
            if (c == ')' && --depth < 0) return broken("a parenthesis closes nothing", at_);
            if (c == ';') return depth == 0 && any ? Status{} : Status(broken("a parenthesis does not close", at_));
            if (c == '=' || c == '\\' || static_cast<unsigned char>(c) >= 0x7f)
                return broken("a character is out of place", at_);
        }
        return broken("a statement does not end", at_);
    }

    Status resolve() {
        for (const Exchange::Instance& instance : out_.instances_)
            for (const int to : out_.references(instance))
                if (!out_.find(to))
                    return broken("#" + std::to_string(instance.id) + " refers to #" + std::to_string(to) +
                                      ", which is missing",
                                  instance.begin);
        return {};
    }

    Exchange& out_;
    std::string_view text_;
    std::size_t at_ = 0;
};

Result<Exchange> Exchange::parse(std::string text) {
    Exchange out;
    out.text_ = std::move(text);
    if (const Status good = Scanner(out).run(); !good) return std::unexpected(good.error());
    return out;
}

const Exchange::Instance* Exchange::find(int id) const {
    if (id <= 0 || static_cast<std::size_t>(id) >= index_.size()) return nullptr;
    const int place = index_[static_cast<std::size_t>(id)];
    return place < 0 ? nullptr : &instances_[static_cast<std::size_t>(place)];
}

Record Exchange::record(int id) const {
    const Instance* instance = find(id);
    return instance ? record_of(text_of(*instance)) : Record{};
}

Record record_of(std::string_view instance) {
    std::string_view body = instance.substr(instance.find('=') + 1);
    body.remove_suffix(1); // its semicolon
    return record_of_body(trimmed(body));
}

Record record_of_body(std::string_view body) {
    const std::size_t open = body.find('('), close = body.rfind(')');
    if (open == std::string_view::npos || close == std::string_view::npos || close < open) return {};
    Record record;
    record.type = trimmed(body.substr(0, open));
    const std::string_view inside = body.substr(open + 1, close - open - 1);
    if (!record.type.empty()) {
        split(inside, [&](std::string_view part) { add(record, part); });
        return record;
    }
    for (std::size_t at = 0, begin = 0, depth = 0; at < inside.size(); ++at) { // parts follow each other without comma
        if (inside[at] == '\'') at = behind_string(inside, at) - 1;
        if (inside[at] == '(') ++depth;
        if (inside[at] != ')' || --depth != 0) continue;
        add(record, trimmed(inside.substr(begin, at + 1 - begin)));
        begin = at + 1;
    }
    return record;
}

std::vector<std::string_view> elements_of(std::string_view list) {
    std::vector<std::string_view> out;
    if (list.size() < 2 || list.front() != '(') return out;
    split(list.substr(1, list.size() - 2), [&](std::string_view part) { out.push_back(part); });
    return out;
}

int reference(std::string_view argument) {
    int value = 0;
    if (argument.size() < 2 || argument.front() != '#') return 0;
    std::from_chars(argument.data() + 1, argument.data() + argument.size(), value);
    return value;
}

std::vector<int> references_in(std::string_view list) {
    std::vector<int> out;
    if (list.size() < 2 || list.front() != '(') return out;
    split(list.substr(1, list.size() - 2), [&](std::string_view part) { out.push_back(reference(part)); });
    return out;
}

double number_in(std::string_view argument) {
    double value = std::numeric_limits<double>::quiet_NaN();
    std::from_chars(argument.data(), argument.data() + argument.size(), value);
    return value;
}

} // namespace touchmark::deliver
