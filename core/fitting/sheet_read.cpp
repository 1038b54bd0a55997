// SPDX-License-Identifier: MIT
#include "core/content/table.h"
#include "core/content/utf8.h"
#include "core/fitting/sheet.h"
#include "core/fitting/sheet_columns.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace touchmark::fitting {
namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\n";
    const auto from = text.find_first_not_of(blanks);
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(blanks) - from + 1);
}

/// What explains the sheet made blank, so that lines keep their numbers; and the line that each row begins on.
struct Prepared {
    std::string text;
    std::vector<std::size_t> lines; ///< of the header and of each row
};

Prepared prepared(std::string text) {
    Prepared out{std::move(text), {}};
    std::string& all = out.text;
    std::size_t line = 1;
    for (std::size_t at = 0; at < all.size();) {
        const std::size_t begin = at, first_line = line;
        bool quoted = false;
        for (; at < all.size() && (quoted || (all[at] != '\n' && all[at] != '\r')); ++at) {
            quoted ^= all[at] == '"';
            line += all[at] == '\n';
        }
        const std::string_view record(all.data() + begin, at - begin);
        const bool comment = record.starts_with('#') || record.starts_with("\"#");
        const bool blank = record.find_first_not_of(",;\t \"") == std::string_view::npos;
        if (comment || blank) {
            const auto kept = static_cast<std::size_t>(std::ranges::count(record, '\n'));
            all.replace(begin, at - begin, kept, '\n');
            at = begin + kept;
        } else {
            out.lines.push_back(first_line);
        }
        if (at < all.size()) {
            at += std::string_view(all).substr(at).starts_with("\r\n") ? 2 : 1;
            ++line;
        }
    }
    return out;
}

class SheetReader {
public:
    SheetReader(const content::Table& table, const std::vector<std::size_t>& lines, std::span<const Item> items)
        : table_(table), lines_(lines), items_(items) {}

    Result<Sheet> read() {
        if (const Status known = check_columns(); !known) return std::unexpected(known.error());
        Sheet out;
        for (row_ = 0; row_ < table_.rows(); ++row_) {
            auto seen = this->seen();
            if (!seen) return std::unexpected(seen.error());
            if (seen->printed > 0 || !seen->measured_mm.empty() || seen->light) out.seen.push_back(*std::move(seen));
        }
        return out;
    }

private:
    [[nodiscard]] std::size_t line() const { return row_ + 1 < lines_.size() ? lines_[row_ + 1] : 0; }
    [[nodiscard]] std::unexpected<Error> wrong(const std::string& what, std::string hint = {}) const {
        const std::string name(cell("item"));
        return fail("fitting.sheet",
                    "Line " + std::to_string(line()) + " of the sheet" + (name.empty() ? "" : ", " + name) + ": " +
                        what + ".",
                    std::move(hint));
    }

    Status check_columns() const {
        for (const std::string& column : table_.columns())
            if (!trimmed(column).empty() && std::ranges::find(sheet_columns, trimmed(column)) == sheet_columns.end()) {
                std::string all;
                for (const std::string_view known : sheet_columns)
                    all += (all.empty() ? "" : ", ") + std::string(known);
                return fail("fitting.sheet", "The sheet has a column \"" + column + "\"; there are " + all + ".",
                            "Put what else you noted into remark.");
            }
        if (!table_.column("item"))
            return fail("fitting.sheet", "The sheet has no column \"item\".",
                        "Start from the sheet of the test strip.");
        return {};
    }

    [[nodiscard]] std::string_view cell(std::string_view column) const {
        for (std::size_t i = 0; i < table_.columns().size(); ++i)
            if (trimmed(table_.columns()[i]) == column) return trimmed(table_.cell(row_, i));
        return {};
    }

    Result<double> number(std::string_view column, std::string_view written) const {
        std::string text(written);
        if (const auto comma = text.find(','); comma != std::string::npos) text[comma] = '.';
        double value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value) || value < 0)
            return wrong('"' + std::string(written) + "\" in " + std::string(column) + " is no number from 0 on");
        return value;
    }

    Result<Seen> seen() const {
        const std::string_view name = cell("item");
        if (name.empty()) return wrong("it names no item");
        const auto item = std::ranges::find(items_, name, &Item::name);
        if (item == items_.end())
            return fail("fitting.other_strip",
                        "Line " + std::to_string(line()) + " of the sheet: the strip of this profile has no item \"" +
                            std::string(name) + "\".",
                        "Choose the profile that the strip was made for.");
        Seen out;
        out.item = static_cast<std::size_t>(item - items_.begin());
        out.line = line();
        for (const Status& done : {same_size(*item), count(*item, out), measure(*item, out), light(*item, out)})
            if (!done) return std::unexpected(done.error());
        return out;
    }

    Status same_size(const Item& item) const {
        const std::string_view written = cell("planned_mm");
        if (written.empty()) return {};
        const auto planned = number("planned_mm", written);
        if (!planned) return std::unexpected(planned.error());
        constexpr double written_to = 0.0051;
        if (std::abs(*planned - item.size_mm) > written_to)
            return fail("fitting.other_strip",
                        "Line " + std::to_string(line()) + " of the sheet, " + item.name + ": it is planned with " +
                            short_number(*planned) + " mm, on the strip of this profile with " +
                            short_number(item.size_mm) + " mm.",
                        "Choose the profile that the strip was made for, as it was then.");
        return {};
    }

    Status count(const Item& item, Seen& out) const {
        const std::string_view printed = cell("printed"), came = cell("came_out");
        if (came.empty()) return {}; // how many were printed says nothing by itself
        if (item.kind == Kind::step)
            return wrong("a step of the wedge has no came_out",
                         "Give its light_percent, or lux_through and lux_without.");
        const bool yes = came == "yes", no = came == "no";
        double strips = 1;
        if (!printed.empty()) {
            const auto given = number("printed", printed);
            if (!given) return std::unexpected(given.error());
            strips = *given;
        } else if (!yes && !no) {
            return wrong("came_out is " + std::string(came) + ", but printed is empty",
                         "Say how many strips you looked at.");
        }
        constexpr double most = 100'000;
        if (strips != std::floor(strips) || strips < 1 || strips > most)
            return wrong("printed is not a whole number of strips");
        double there = yes ? strips : 0;
        if (!yes && !no) {
            const auto given = number("came_out", came);
            if (!given)
                return wrong('"' + std::string(came) + "\" in came_out is neither yes nor no nor a number of strips");
            there = *given;
        }
        if (there != std::floor(there)) return wrong("came_out is not a whole number of strips");
        if (there > strips) return wrong("came_out is more than printed");
        out.printed = static_cast<int>(strips);
        out.came_out = static_cast<int>(there);
        return {};
    }

    Status measure(const Item& item, Seen& out) const {
        std::string_view rest = cell("measured_mm");
        if (!rest.empty() && (item.kind == Kind::text || item.kind == Kind::code))
            return wrong("measured_mm is for strokes, gaps and steps");
        while (!rest.empty()) {
            const auto end = std::min(rest.find(' '), rest.size());
            const auto value = number("measured_mm", rest.substr(0, end));
            if (!value) return std::unexpected(value.error());
            constexpr double farthest = 2; // of the planned width, and that many mm more
            if (*value <= 0 || *value > farthest * item.size_mm + farthest)
                return wrong("measured_mm is " + short_number(*value) + " mm, planned are " +
                                 short_number(item.size_mm) + " mm",
                             "Give it in mm; leave it empty where there is nothing to measure.");
            out.measured_mm.push_back(*value);
            rest = trimmed(rest.substr(end));
        }
        return {};
    }

    Status light(const Item& item, Seen& out) const {
        const std::string_view percent = cell("light_percent"), through = cell("lux_through"),
                               without = cell("lux_without");
        if (percent.empty() && through.empty() && without.empty()) return {};
        if (item.kind != Kind::step) return wrong("only a step of the wedge is held against a light");
        if (!percent.empty() && !(through.empty() && without.empty()))
            return wrong("it has both light_percent and lux", "Give one of the two.");
        if (percent.empty() && (through.empty() || without.empty()))
            return wrong("lux_through and lux_without are needed together");
        const auto top = number("lux_through", percent.empty() ? through : "0"),
                   whole = number("lux_without", percent.empty() ? without : "100");
        const auto share = percent.empty() ? top : number("light_percent", percent);
        for (const auto* figure : {&top, &whole, &share})
            if (!*figure) return std::unexpected(figure->error());
        if (*share <= 0)
            return wrong("no light came through", "Leave it empty where the meter shows nothing: there is no figure.");
        if (*share > *whole) return wrong("more light comes through than without the strip");
        out.light = *share / *whole;
        return {};
    }

    const content::Table& table_;
    const std::vector<std::size_t>& lines_;
    std::span<const Item> items_;
    std::size_t row_ = 0;
};

} // namespace

Result<Sheet> read_sheet(std::string bytes, std::span<const Item> items) {
    const Prepared ready = prepared(content::utf8_from(std::move(bytes)));
    const auto table = content::Table::read("sheet", ready.text);
    if (!table) return std::unexpected(table.error());
    return SheetReader(**table, ready.lines, items).read();
}

} // namespace touchmark::fitting
