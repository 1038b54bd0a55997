// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::deliver {

/// An entity instance taken apart: `LINE('',#3,#4)` has the type LINE and three arguments. A complex one, `( A() B(1)
/// )`, has no type; each of its parts is an argument.
struct Record {
    static constexpr std::size_t most = 16; ///< no entity that parts are made of has more

    std::string_view type;
    std::array<std::string_view, most> arguments{};
    std::size_t count = 0; ///< as given, the first 16 kept

    [[nodiscard]] std::string_view argument(std::size_t i) const {
        return i < most ? arguments[i] : std::string_view();
    }
};

/// The text of an exchange file by ISO 10303-21, and where its entity instances are. Shares no code with what reads
/// parts.
class Exchange {
public:
    struct Instance {
        int id = 0;
        std::size_t begin = 0, end = 0;       ///< in the text, from its # until behind its ;
        std::size_t references = 0, last = 0; ///< in all_references()
    };

    /// Errors: "deliver.verify" when strings, parentheses or statements do not close, a number is given twice, or an
    /// instance refers to one that is not there.
    [[nodiscard]] static Result<Exchange> parse(std::string text);

    [[nodiscard]] const std::string& text() const { return text_; }
    /// In the order of the text.
    [[nodiscard]] const std::vector<Instance>& instances() const { return instances_; }
    [[nodiscard]] const Instance* find(int id) const;
    [[nodiscard]] int highest_id() const { return static_cast<int>(index_.size()) - 1; }
    [[nodiscard]] std::string_view text_of(const Instance& instance) const {
        return std::string_view(text_).substr(instance.begin, instance.end - instance.begin);
    }
    [[nodiscard]] std::span<const int> references(const Instance& instance) const {
        return std::span(references_).subspan(instance.references, instance.last - instance.references);
    }
    /// Empty when there is no such instance.
    [[nodiscard]] Record record(int id) const;
    /// The text before the first instance; where the last one ends.
    [[nodiscard]] std::size_t data_begin() const { return data_begin_; }
    [[nodiscard]] std::size_t data_end() const { return data_end_; }

private:
    friend class Scanner;
    std::string text_;
    std::vector<Instance> instances_;
    std::vector<int> index_; ///< place in instances_ by number, -1 for none
    std::vector<int> references_;
    std::size_t data_begin_ = 0, data_end_ = 0;
};

/// Of `#12=LINE('',#3,#4);`.
[[nodiscard]] Record record_of(std::string_view instance);
/// Of `LINE('',#3,#4)`.
[[nodiscard]] Record record_of_body(std::string_view body);
/// The elements of `(a,b,(c,d))`.
[[nodiscard]] std::vector<std::string_view> elements_of(std::string_view list);
/// Of `#12`; 0 for anything else.
[[nodiscard]] int reference(std::string_view argument);
[[nodiscard]] std::vector<int> references_in(std::string_view list);
/// NaN for what is no number.
[[nodiscard]] double number_in(std::string_view argument);

} // namespace touchmark::deliver
