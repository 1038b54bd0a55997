// SPDX-License-Identifier: MIT
#pragma once

#include <gp_Ax3.hxx>
#include <gp_Dir.hxx>
#include <gp_Pnt.hxx>

#include <string>
#include <string_view>
#include <unordered_map>

namespace touchmark::deliver {

/// Writes entity instances with numbers of their own, behind those of a text that is there already. A point or a
/// direction that is written twice is there once.
class Entities {
public:
    /// `unit_mm`: the file's unit of length. Lengths are given in mm and written to 1e-10 mm.
    Entities(int highest_id, double unit_mm);

    /// A new instance, whatever it says.
    int add(std::string_view body);
    /// The instance that says this.
    int shared(const std::string& body);

    int point(const gp_Pnt& at);
    int direction(const gp_Dir& direction);
    int vector(const gp_Dir& direction);
    /// Location, Z and X.
    int placement(const gp_Ax3& axes);

    /// "12.5"
    [[nodiscard]] std::string length(double mm) const;
    [[nodiscard]] double unit_mm() const { return unit_mm_; }
    [[nodiscard]] const std::string& text() const { return text_; }
    [[nodiscard]] int count() const { return last_ - first_; }

private:
    int first_, last_;
    double unit_mm_;
    int decimals_;
    std::string text_;
    std::unordered_map<std::string, int> known_;
};

/// As short as it can be and read back the same, with the point that ISO 10303-21 asks for.
[[nodiscard]] std::string real(double value);
/// "#12"
[[nodiscard]] std::string to(int id);
/// ".T." or ".F."
[[nodiscard]] std::string_view truth(bool value);

/// (…,…) of what `element(i)` says.
template <class Element> [[nodiscard]] std::string list_of(int first, int last, Element&& element) {
    std::string out = "(";
    for (int i = first; i <= last; ++i) {
        if (i > first) out += ',';
        out += element(i);
    }
    return out += ')';
}

} // namespace touchmark::deliver
