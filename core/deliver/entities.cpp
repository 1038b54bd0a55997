// SPDX-License-Identifier: MIT
#include "core/deliver/entities.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace touchmark::deliver {
namespace {

/// Trailing noughts and the sign of nought say nothing.
std::string fixed(double value, int decimals) {
    std::array<char, 64> buffer{};
    const auto [end, error] =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, decimals);
    if (error != std::errc()) return real(value);
    std::string text(buffer.data(), end);
    text.erase(text.find_last_not_of('0') + 1);
    if (text == "-0.") text = "0.";
    return text;
}

} // namespace

Entities::Entities(int highest_id, double unit_mm)
    : first_(highest_id), last_(highest_id), unit_mm_(unit_mm),
      decimals_(10 + std::max(0, static_cast<int>(std::ceil(std::log10(unit_mm))))) {}

int Entities::add(std::string_view body) {
    text_ += '#';
    text_ += std::to_string(++last_);
    text_ += '=';
    text_ += body;
    text_ += ";\n";
    return last_;
}

int Entities::shared(const std::string& body) {
    const auto [known, fresh] = known_.try_emplace(body, 0);
    if (fresh) known->second = add(body);
    return known->second;
}

int Entities::point(const gp_Pnt& at) {
    return shared("CARTESIAN_POINT('',(" + length(at.X()) + ',' + length(at.Y()) + ',' + length(at.Z()) + "))");
}

int Entities::direction(const gp_Dir& d) {
    constexpr int exact = 15;
    return shared("DIRECTION('',(" + fixed(d.X(), exact) + ',' + fixed(d.Y(), exact) + ',' + fixed(d.Z(), exact) +
                  "))");
}

int Entities::vector(const gp_Dir& along) {
    return shared("VECTOR(''," + to(direction(along)) + ",1.)");
}

int Entities::placement(const gp_Ax3& axes) {
    const int origin = point(axes.Location()), z = direction(axes.Direction()), x = direction(axes.XDirection());
    return add("AXIS2_PLACEMENT_3D(''," + to(origin) + ',' + to(z) + ',' + to(x) + ')');
}

std::string Entities::length(double mm) const {
    return fixed(mm / unit_mm_, decimals_);
}

std::string real(double value) {
    std::array<char, 64> buffer{};
    const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    std::string text(buffer.data(), error == std::errc() ? end : buffer.data());
    std::size_t exponent = text.find('e');
    if (exponent != std::string::npos) text[exponent] = 'E';
    exponent = std::min(exponent, text.size());
    if (text.find('.') == std::string::npos) text.insert(exponent, ".");
    return text;
}

std::string to(int id) {
    return '#' + std::to_string(id);
}

std::string_view truth(bool value) {
    return value ? ".T." : ".F.";
}

} // namespace touchmark::deliver
