// SPDX-License-Identifier: MIT
#include "tests/core/deliver/part21.h"

#include <cctype>

namespace touchmark::test {

Part21::Part21(std::string_view text) : text_(text) {
    expect("ISO-10303-21;");
    header();
    expect("DATA;");
    for (blanks(); next('#');)
        instance();
    expect("ENDSEC;");
    expect("END-ISO-10303-21;");
    blanks();
    if (at_ != text_.size()) fail("something follows the end");
    for (const auto& [id, to] : references)
        for (const int target : to)
            if (!references.contains(target))
                fail("#" + std::to_string(id) + " refers to #" + std::to_string(target) + ", which is missing");
}

void Part21::fail(const std::string& what) const {
    throw std::runtime_error("byte " + std::to_string(at_) + ": " + what + " near " +
                             std::string(text_.substr(at_, 60)));
}

void Part21::blanks() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_])) != 0)
        ++at_;
}

bool Part21::next(char c) {
    blanks();
    return at_ < text_.size() && text_[at_] == c;
}

void Part21::expect(char c) {
    if (!next(c)) fail(std::string("expected ") + c);
    ++at_;
}

void Part21::expect(std::string_view word) {
    blanks();
    if (text_.substr(at_, word.size()) != word) fail("expected " + std::string(word));
    at_ += word.size();
}

/// STANDARD_KEYWORD = UPPER { UPPER | DIGIT } where UPPER holds the underline.
std::string Part21::keyword() {
    blanks();
    const std::size_t begin = at_;
    while (at_ < text_.size() && (std::isupper(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '_' ||
                                  (at_ > begin && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)))
        ++at_;
    if (at_ == begin) fail("expected a keyword");
    return std::string(text_.substr(begin, at_ - begin));
}

/// ENTITY_INSTANCE_NAME = "#" DIGIT { DIGIT }.
int Part21::number() {
    expect('#');
    int value = 0;
    const std::size_t begin = at_;
    while (at_ < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)
        value = value * 10 + (text_[at_++] - '0');
    if (at_ == begin || value == 0) fail("an instance needs a number above nought");
    return value;
}

/// Printable ASCII; an apostrophe is doubled.
void Part21::string() {
    expect('\'');
    while (at_ < text_.size()) {
        const char c = text_[at_++];
        if (c != '\'') {
            if (c < 0x20 || c > 0x7e) fail("a character that strings may not hold");
            continue;
        }
        if (at_ >= text_.size() || text_[at_] != '\'') return;
        ++at_;
    }
    fail("a string does not end");
}

/// REAL = [SIGN] DIGIT {DIGIT} "." {DIGIT} [ "E" [SIGN] DIGIT {DIGIT} ]; INTEGER has no point.
void Part21::real_or_integer() {
    const auto digits = [&] {
        const std::size_t begin = at_;
        while (at_ < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)
            ++at_;
        return at_ > begin;
    };
    const auto sign = [&] {
        if (at_ < text_.size() && (text_[at_] == '+' || text_[at_] == '-')) ++at_;
    };
    sign();
    if (!digits()) fail("expected a digit");
    if (at_ >= text_.size() || text_[at_] != '.') return;
    ++at_;
    digits();
    if (at_ >= text_.size() || text_[at_] != 'E') return;
    ++at_;
    sign();
    if (!digits()) fail("expected an exponent");
}

void Part21::enumeration() {
    expect('.');
    keyword();
    expect('.');
}

void Part21::parameter() {
    blanks();
    if (at_ >= text_.size()) fail("expected a parameter");
    const char c = text_[at_];
    if (c == '$' || c == '*')
        ++at_;
    else if (c == '\'')
        string();
    else if (c == '.')
        enumeration();
    else if (c == '#')
        into_->insert(number());
    else if (c == '(')
        parameters();
    else if (std::isupper(static_cast<unsigned char>(c)) != 0) {
        keyword(); // a typed parameter
        expect('(');
        parameter();
        expect(')');
    } else
        real_or_integer();
}

void Part21::parameters() {
    expect('(');
    if (!next(')')) {
        parameter();
        while (next(',')) {
            ++at_;
            parameter();
        }
    }
    expect(')');
}

void Part21::record() {
    ++types[keyword()];
    parameters();
}

void Part21::header() {
    std::set<int> none;
    into_ = &none;
    expect("HEADER;");
    for (const std::string_view entity : {"FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"}) {
        expect(entity);
        parameters();
        expect(';');
    }
    expect("ENDSEC;");
    if (!none.empty()) fail("the header refers to the data");
}

void Part21::instance() {
    const int id = number();
    const auto [place, fresh] = references.try_emplace(id);
    if (!fresh) fail("#" + std::to_string(id) + " is given twice");
    into_ = &place->second;
    expect('=');
    if (next('(')) {
        ++at_;
        while (!next(')'))
            record();
        expect(')');
    } else {
        record();
    }
    expect(';');
}

} // namespace touchmark::test
