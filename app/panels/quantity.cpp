// SPDX-License-Identifier: MIT
#include "app/panels/quantity.h"

#include <array>
#include <cmath>
#include <numbers>
#include <optional>

namespace touchmark::panels {
namespace {

struct Unit {
    const char16_t* name;
    Measure measure;
    double factor;
};
constexpr std::array units{
    Unit{u"mm", Measure::length, 1},
    Unit{u"cm", Measure::length, 10},
    Unit{u"inches", Measure::length, 25.4},
    Unit{u"inch", Measure::length, 25.4},
    Unit{u"in", Measure::length, 25.4},
    Unit{u"\"", Measure::length, 25.4},
    Unit{u"″", Measure::length, 25.4},
    Unit{u"thou", Measure::length, 0.0254},
    Unit{u"mil", Measure::length, 0.0254},
    Unit{u"µm", Measure::length, 0.001},
    Unit{u"μm", Measure::length, 0.001},
    Unit{u"um", Measure::length, 0.001},
    Unit{u"°", Measure::angle, 1},
    Unit{u"deg", Measure::angle, 1},
    Unit{u"rad", Measure::angle, 180 / std::numbers::pi},
};
constexpr int deepest = 32; ///< parentheses within parentheses

class Parser {
public:
    Parser(const QString& typed, Measure measure) : text_(typed), measure_(measure) {}

    std::optional<double> parse() {
        const auto value = sum();
        skip_space();
        if (!value || at_ != text_.size() || !std::isfinite(*value)) return std::nullopt;
        return value;
    }

private:
    void skip_space() {
        while (at_ < text_.size() && text_[at_].isSpace())
            ++at_;
    }
    bool take(QStringView wanted) {
        skip_space();
        if (!QStringView(text_).mid(at_).startsWith(wanted, Qt::CaseInsensitive)) return false;
        at_ += wanted.size();
        return true;
    }
    std::optional<double> sum() {
        auto value = product();
        while (value) {
            const bool plus = take(u"+");
            if (!plus && !take(u"-") && !take(u"−")) break;
            const auto next = product();
            if (!next) return std::nullopt;
            value = plus ? *value + *next : *value - *next;
        }
        return value;
    }
    std::optional<double> product() {
        auto value = factor();
        bool has_unit = false;
        while (value) {
            if (const Unit* unit = take_unit()) {
                if (has_unit) return std::nullopt;
                has_unit = true;
                *value *= unit->factor;
                continue;
            }
            const bool times = take(u"*") || take(u"×") || take(u"·");
            if (!times && !take(u"/") && !take(u"÷")) break;
            const auto next = factor();
            if (!next) return std::nullopt;
            value = times ? *value * *next : *value / *next;
        }
        return value;
    }
    std::optional<double> factor() {
        if (take(u"-") || take(u"−")) {
            const auto value = primary();
            return value ? std::optional(-*value) : std::nullopt;
        }
        take(u"+");
        return primary();
    }
    std::optional<double> primary() {
        if (take(u"(")) {
            if (++depth_ > deepest) return std::nullopt;
            const auto value = sum();
            --depth_;
            return take(u")") ? value : std::nullopt;
        }
        auto whole = number();
        if (!whole) return std::nullopt;
        const qsizetype before = at_; // "1 1/2": a whole number, then a fraction
        if (at_ < text_.size() && text_[at_].isSpace() && *whole == std::floor(*whole)) {
            const auto over = number();
            if (over && take(u"/"))
                if (const auto under = number()) return *whole + *over / *under;
        }
        at_ = before;
        return whole;
    }
    std::optional<double> number() {
        skip_space();
        QString digits;
        qsizetype end = at_;
        bool point = false, any = false;
        for (; end < text_.size(); ++end) {
            const QChar c = text_[end];
            if (c >= u'0' && c <= u'9')
                any = true;
            else if ((c == u'.' || c == u',') && !point)
                point = true;
            else
                break;
            digits += c == u',' ? QChar(u'.') : c;
        }
        if (!any) return std::nullopt;
        at_ = end;
        return digits.toDouble();
    }
    const Unit* take_unit() {
        for (const Unit& unit : units)
            if (unit.measure == measure_ && take(unit.name)) return &unit;
        return nullptr;
    }

    QString text_;
    Measure measure_;
    qsizetype at_ = 0;
    int depth_ = 0;
};

} // namespace

Result<double> parse_quantity(const QString& typed, Measure measure) {
    if (const auto value = Parser(typed, measure).parse()) return *value;
    return fail("quantity.malformed", "This is not a number.",
                measure == Measure::length ? "Type for instance 4.2, 2*3.2 or 1/8 in."
                                           : "Type for instance 45 or 90/4.");
}

QString editable_number(double value) {
    QString text = QString::number(value, 'f', 4);
    while (text.endsWith(u'0'))
        text.chop(1);
    if (text.endsWith(u'.')) text.chop(1);
    return text == u"-0" ? QStringLiteral("0") : text;
}

} // namespace touchmark::panels
