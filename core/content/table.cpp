// SPDX-License-Identifier: MIT
#include "core/content/table.h"

#include "core/base/atomic_file.h"
#include "core/content/utf8.h"

#include <algorithm>

namespace touchmark::content {
namespace {

/// RFC 4180 knows the comma; spreadsheets of countries with a decimal comma write semicolons.
char separator_of(std::string_view text) {
    bool quoted = false;
    std::size_t semicolons = 0, tabs = 0;
    text.remove_prefix(std::min(text.find_first_not_of("\r\n"), text.size())); // blank lines before the header
    for (const char c : text) {
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        if (c == ',') return ',';
        if (c == '\n' || c == '\r') break;
        semicolons += c == ';';
        tabs += c == '\t';
    }
    return semicolons > 0 && semicolons >= tabs ? ';' : tabs > 0 ? '\t' : ',';
}

/// Goes through the records of a text; clause numbers are those of RFC 4180, section 2.
class Reader {
public:
    explicit Reader(std::string_view text) : text_(text), separator_(separator_of(text)) {}

    [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
    [[nodiscard]] std::size_t line() const { return line_; }

    /// Empty for a blank line.
    Result<std::vector<std::string>> record() {
        std::vector<std::string> fields;
        if (end_of_line()) return fields;
        for (;;) {
            auto field = at_ < text_.size() && text_[at_] == '"' ? quoted() : plain();
            if (!field) return std::unexpected(field.error());
            fields.push_back(*std::move(field));
            if (at_end() || end_of_line()) return fields;
            ++at_; // the separator
        }
    }

private:
    std::unexpected<Error> malformed(std::string_view what) const {
        return fail("content.table_malformed",
                    "Line " + std::to_string(line_) + " of the table " + std::string(what) + ".",
                    "Save it again as CSV from a spreadsheet.");
    }

    /// Clause 1: CRLF; a lone LF or CR is taken too.
    bool end_of_line() {
        if (at_end() || (text_[at_] != '\r' && text_[at_] != '\n')) return false;
        at_ += text_.substr(at_).starts_with("\r\n") ? 2 : 1;
        ++line_;
        return true;
    }

    Result<std::string> plain() {
        const std::size_t start = at_;
        while (!at_end() && text_[at_] != separator_ && text_[at_] != '\r' && text_[at_] != '\n')
            if (text_[at_++] == '"')
                return malformed("has a quotation mark within a field that does not begin with one");
        return std::string(text_.substr(start, at_ - start));
    }

    /// Clauses 5 to 7: a quotation mark within is doubled; line ends become '\n'.
    Result<std::string> quoted() {
        std::string field;
        const std::size_t first_line = line_;
        for (++at_;; ++at_) {
            if (at_end()) {
                line_ = first_line;
                return malformed("begins a quoted field that never ends");
            }
            const char c = text_[at_];
            if (c == '"') {
                if (at_ + 1 == text_.size() || text_[at_ + 1] != '"') break;
                ++at_;
            } else if (c == '\r' || c == '\n') {
                at_ += text_.substr(at_).starts_with("\r\n");
                ++line_;
                field += '\n';
                continue;
            }
            field += c;
        }
        ++at_;
        if (!at_end() && text_[at_] != separator_ && text_[at_] != '\r' && text_[at_] != '\n')
            return malformed("has text behind a closing quotation mark");
        return field;
    }

    std::string_view text_;
    char separator_;
    std::size_t at_ = 0, line_ = 1;
};

Status check_header(const std::vector<std::string>& columns) {
    if (columns.size() > most_columns)
        return fail("content.table_too_large", "The table has more than " + std::to_string(most_columns) + " columns.");
    for (auto column = columns.begin(); column != columns.end(); ++column)
        if (!column->empty() && std::find(columns.begin(), column, *column) != column)
            return fail("content.table_malformed", "Two columns of the table are called \"" + *column + "\".",
                        "Give each a name of its own.");
    return {};
}

} // namespace

Status Table::parse() {
    const auto empty = [] {
        return fail("content.table_empty", "The table has no rows.",
                    "It needs a line with the names of its columns, and beneath it one line a unit.");
    };
    if (std::ranges::any_of(source_, [](char c) {
            const auto byte = static_cast<unsigned char>(c);
            return (byte < 0x20 && c != '\t' && c != '\r' && c != '\n') || byte == 0x7f;
        }))
        return fail("content.table_malformed", "The table holds control characters: it is no text.",
                    "Save it as CSV from a spreadsheet.");
    Reader reader(source_);
    std::size_t rows = 0;
    while (!reader.at_end()) {
        const std::size_t line = reader.line();
        auto record = reader.record();
        if (!record) return std::unexpected(record.error());
        if (record->empty()) continue;
        if (columns_.empty()) {
            if (Status good = check_header(*record); !good) return good;
            columns_ = *std::move(record);
            continue;
        }
        if (record->size() != columns_.size()) // clause 4
            return fail("content.table_malformed",
                        "Line " + std::to_string(line) + " of the table has " + std::to_string(record->size()) +
                            (record->size() == 1 ? " field; its header has " : " fields; its header has ") +
                            std::to_string(columns_.size()) + ".");
        if (++rows > most_rows)
            return fail("content.table_too_large", "The table has more than " + std::to_string(most_rows) + " rows.",
                        "Split it.");
        std::ranges::move(*record, std::back_inserter(cells_));
    }
    return rows == 0 ? Status(empty()) : Status();
}

std::optional<std::size_t> Table::column(std::string_view title) const {
    const auto found = std::ranges::find(columns_, title);
    if (title.empty() || found == columns_.end()) return std::nullopt;
    return static_cast<std::size_t>(found - columns_.begin());
}

Result<TablePtr> Table::read(std::string name, std::string bytes) {
    Table table;
    table.name_ = std::move(name);
    table.source_ = utf8_from(std::move(bytes));
    if (table.source_.size() > largest_table)
        return fail("content.table_too_large", "The table " + table.name_ + " is larger than 8 MB.", "Split it.");
    table.digest_ = Digester().add(table.source_).digest();
    if (Status parsed = table.parse(); !parsed) return std::unexpected(parsed.error());
    return std::make_shared<const Table>(std::move(table));
}

Result<TablePtr> Table::read_file(const std::filesystem::path& file) {
    Result<std::string> bytes = read_text(file, 2 * largest_table);
    if (!bytes) return std::unexpected(bytes.error());
    std::string name = file.filename().string();
    if (!decode_utf8(name)) name = "table";
    return read(std::move(name), *std::move(bytes));
}

} // namespace touchmark::content
