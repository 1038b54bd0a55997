// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/digest.h"
#include "core/base/result.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace touchmark::content {

class Table;
using TablePtr = std::shared_ptr<const Table>;

inline constexpr std::size_t largest_table = 8'000'000; ///< bytes
inline constexpr std::size_t most_rows = 100'000;
inline constexpr std::size_t most_columns = 1'000;

/// One unit a row. Comma-separated values by RFC 4180 with a header line; semicolons or tabs where the header has those
/// and no comma. Held by content like line art, so that a job stays whole when it is moved. Immutable.
class Table {
public:
    /// Bytes that are no UTF-8 are taken as UTF-16 when they say so, else as Latin-1. Blank lines are skipped.
    /// Errors: "content.table_malformed" (naming the line), "content.table_empty", "content.table_too_large".
    [[nodiscard]] static Result<TablePtr> read(std::string name, std::string bytes);
    /// Errors: those of reading a file, and of read().
    [[nodiscard]] static Result<TablePtr> read_file(const std::filesystem::path& file);

    [[nodiscard]] const std::string& name() const { return name_; }     ///< of the file it came from; for people
    [[nodiscard]] const std::string& source() const { return source_; } ///< its text, UTF-8
    [[nodiscard]] const Digest& digest() const { return digest_; }      ///< of the source
    [[nodiscard]] const std::vector<std::string>& columns() const { return columns_; }
    [[nodiscard]] std::optional<std::size_t> column(std::string_view title) const;
    [[nodiscard]] std::size_t rows() const { return cells_.size() / columns_.size(); } ///< 1 or more
    /// REQUIRES: both in range.
    [[nodiscard]] const std::string& cell(std::size_t row, std::size_t column) const {
        return cells_[row * columns_.size() + column];
    }

private:
    Table() = default;
    [[nodiscard]] Status parse();

    std::string name_, source_;
    Digest digest_;
    std::vector<std::string> columns_;
    std::vector<std::string> cells_; ///< row after row
};

} // namespace touchmark::content
