// SPDX-License-Identifier: MIT
#include "core/run/rates.h"

#include "core/base/atomic_file.h"

namespace touchmark::run {

std::string_view key_of(Fit fit) {
    switch (fit) {
    case Fit::none:
        return "none";
    case Fit::apart:
        return "apart";
    case Fit::together:
        return "together";
    }
    return "none";
}

Result<Rates> load_rates(const std::filesystem::path& file) {
    const Result<std::string> text = read_text(file, 1u << 20);
    if (!text) return std::unexpected(text.error());
    Result<Rates> rates = parse_rates(*text);
    if (!rates) rates.error().message = file.filename().string() + ": " + rates.error().message;
    return rates;
}

Status save_rates(const Rates& rates, const std::filesystem::path& file) {
    return write_text_atomically(file, text_of(rates));
}

} // namespace touchmark::run
