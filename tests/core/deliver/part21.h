// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::test {

/// An exchange file as ISO 10303-21 (edition 3, clause 5.5 and annex A: WSN of the exchange structure) has it, read by
/// recursive descent over the whole grammar of header and data section; none of the product's code. The attributes of
/// the entities that solids, their surfaces and their colours are made of are held against ISO 10303-42 and -46
/// (number, type, and type of what they refer to; from memory). Throws std::runtime_error that says what breaks the
/// rules.
class Part21 {
public:
    explicit Part21(std::string_view text);

    std::map<int, std::set<int>> references; ///< of each instance
    std::map<std::string, int> types;        ///< how many instances (or parts of complex ones) of each

    struct Entity {
        std::string type; ///< empty for a complex one
        std::vector<std::string_view> attributes;
    };
    std::map<int, Entity> entities;

private:
    [[noreturn]] void fail(const std::string& what) const;
    void blanks();
    [[nodiscard]] bool next(char c);
    void expect(char c);
    void expect(std::string_view word);
    std::string keyword();
    int number();
    void string();
    void real_or_integer();
    void enumeration();
    void parameter();
    void parameters();
    Entity record();
    void check_attributes() const;
    void header();
    void instance();

    std::string_view text_;
    std::size_t at_ = 0;
    std::set<int>* into_ = nullptr;
};

} // namespace touchmark::test
