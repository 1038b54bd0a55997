// SPDX-License-Identifier: MIT
#pragma once

#include <expected>
#include <string>
#include <utility>

namespace touchmark {

/// Why something could not be done, for a person who can act on it.
struct Error {
    /// Stable and machine-readable, e.g. "part.truncated"; module name first.
    std::string code;
    /// One sentence, no trailing newline: what happened, naming the file or value.
    std::string message;
    /// One sentence: what to try next. May be empty.
    std::string hint;

    friend bool operator==(const Error&, const Error&) = default;
};

template <class T> using Result = std::expected<T, Error>;
using Status = Result<void>;

[[nodiscard]] inline std::unexpected<Error> fail(std::string code, std::string message, std::string hint = {}) {
    return std::unexpected(Error{std::move(code), std::move(message), std::move(hint)});
}

} // namespace touchmark
