// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <string_view>

namespace touchmark::test {

/// An exchange file as ISO 10303-21 (edition 3, clause 5.5 and annex A: WSN of the exchange structure) has it, read by
/// recursive descent over the whole grammar of header and data section; none of the product's code. Throws
/// std::runtime_error that says where the text breaks the grammar.
class Part21 {
public:
    explicit Part21(std::string_view text);

    std::map<int, std::set<int>> references; ///< of each instance
    std::map<std::string, int> types;        ///< how many instances (or parts of complex ones) of each

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
    void record();
    void header();
    void instance();

    std::string_view text_;
    std::size_t at_ = 0;
    std::set<int>* into_ = nullptr;
};

} // namespace touchmark::test
