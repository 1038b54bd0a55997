// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <nlohmann/json.hpp>

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// Reading JSON that a person may have edited, or that somebody hostile wrote: bounded, strict, and with an error that
/// names the place.
namespace touchmark::json {

using Value = nlohmann::json;

struct Bounds {
    std::size_t bytes = 16u << 20;
    int depth = 32; ///< objects and arrays within each other
};

/// Refuses what is too large, nested too deep, not UTF-8, or names a key of an object twice. The error has the code
/// given and says line and column.
[[nodiscard]] Result<Value> parse(std::string_view text, std::string_view code, const Bounds& bounds = {});

/// The first thing found wrong while walking through a value; later ones are consequences and are dropped.
class Trouble {
public:
    /// `range_code`: for a number that is out of its range; the same when absent.
    explicit Trouble(std::string code, std::string range_code = {})
        : code_(std::move(code)), range_code_(range_code.empty() ? code_ : std::move(range_code)) {}
    void say_range(std::string message) { say_as(range_code_, std::move(message)); }
    void say(std::string message, std::string hint = {}) { say_as(code_, std::move(message), std::move(hint)); }
    void say_as(std::string code, std::string message, std::string hint = {}) {
        if (!first_) first_ = Error{std::move(code), std::move(message), std::move(hint)};
    }
    explicit operator bool() const { return first_.has_value(); }
    [[nodiscard]] const Error& error() const { return *first_; }

private:
    std::string code_, range_code_;
    std::optional<Error> first_;
};

/// A value with its place ("limits[3].hard"). Asking for what is not there records trouble and returns a harmless
/// stand-in, so a whole document is read in straight lines and checked once at the end.
class Node {
public:
    Node(const Value& value, std::string path, Trouble& trouble)
        : value_(&value), path_(std::move(path)), trouble_(&trouble) {}

    /// A required member.
    [[nodiscard]] Node operator[](std::string_view key) const;
    [[nodiscard]] std::optional<Node> find(std::string_view key) const;
    /// Records trouble for every key but these.
    void allow_only(std::initializer_list<std::string_view> keys) const;
    void allow_only(const std::vector<std::string_view>& keys) const;

    [[nodiscard]] std::vector<Node> elements() const; ///< of an array
    [[nodiscard]] bool is_object() const { return value_->is_object(); }
    /// Finite and within the range, ends included.
    [[nodiscard]] double number(double least, double most) const;
    [[nodiscard]] std::int64_t integer(std::int64_t least, std::int64_t most) const;
    [[nodiscard]] std::string text(std::size_t longest = 10'000) const;
    [[nodiscard]] bool truth() const;

    void refuse(std::string_view what, std::string hint = {}) const; ///< records "PATH what."
    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] Trouble& trouble() const { return *trouble_; }

private:
    const Value* value_;
    std::string path_;
    Trouble* trouble_;
};

/// A format of files of our own.
struct Format {
    std::string_view name;         ///< "touchmark job"
    std::int64_t newest = 1;       ///< version that this program knows
    std::string_view newer_code{}; ///< the error's where a file has a newer one: "job.newer_version"
    std::string_view is_a{};       ///< "a Touchmark job"
    std::string_view called = "file", newer_hint = "Use a newer Touchmark.";
};
/// The members "format" and "version"; trouble where they are not this format's.
int read_version(const Node& root, const Format& format);

/// Well-formed UTF-8 (RFC 3629: no surrogates, no overlong forms, nothing above U+10FFFF).
[[nodiscard]] bool is_utf8(std::string_view text);

} // namespace touchmark::json
