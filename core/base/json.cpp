// SPDX-License-Identifier: MIT
#include "core/base/json.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <set>

namespace touchmark::json {
namespace {

std::string plain(double value) {
    std::array<char, 64> buffer{};
    // Not printf: that writes a comma in half of the world's locales.
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::general, 10);
    return {buffer.data(), end.ptr};
}

/// For a message: cut at a character's boundary.
std::string shortened(std::string text) {
    constexpr std::size_t longest = 160;
    if (text.size() <= longest) return text;
    std::size_t end = longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80)
        --end;
    return text.substr(0, end) + "…";
}

/// How many bytes from the start are well-formed UTF-8.
std::size_t well_formed_bytes(std::string_view text) {
    const auto byte = [&](std::size_t i) {
        return i < text.size() ? static_cast<unsigned>(static_cast<unsigned char>(text[i])) : 0u;
    };
    for (std::size_t i = 0; i < text.size();) {
        const unsigned lead = byte(i);
        if (lead >= 0x80 && (lead < 0xC2 || lead > 0xF4)) return i;
        const std::size_t more = lead < 0x80 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
        // The second byte's range keeps out overlong forms, surrogates and what lies above U+10FFFF (RFC 3629, section
        // 4).
        const unsigned low = lead == 0xE0 ? 0xA0 : lead == 0xF0 ? 0x90 : 0x80;
        const unsigned high = lead == 0xED ? 0x9F : lead == 0xF4 ? 0x8F : 0xBF;
        for (std::size_t k = 1; k <= more; ++k)
            if (byte(i + k) < (k == 1 ? low : 0x80) || byte(i + k) > (k == 1 ? high : 0xBF)) return i;
        i += more + 1;
    }
    return text.size();
}

std::string_view kind_of(const Value& value) {
    switch (value.type()) {
    case Value::value_t::null:
        return "null";
    case Value::value_t::object:
        return "an object";
    case Value::value_t::array:
        return "a list";
    case Value::value_t::string:
        return "a text";
    case Value::value_t::boolean:
        return "true or false";
    default:
        return "a number";
    }
}

std::string place(std::string_view text, std::size_t at) {
    const std::string_view before = text.substr(0, std::min(at, text.size()));
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    const std::size_t start = before.rfind('\n');
    const std::size_t column = start == std::string_view::npos ? before.size() : before.size() - start - 1;
    return "line " + std::to_string(line) + ", column " + std::to_string(std::max<std::size_t>(column, 1));
}

/// A first look that builds nothing: is it well-formed, how deep does it go, and does an object hold a key twice (of
/// which the library would silently keep the last)?
class Inspector : public nlohmann::json_sax<Value> {
public:
    explicit Inspector(int deepest) : deepest_(deepest) {}

    bool null() override { return true; }
    bool boolean(bool) override { return true; }
    bool number_integer(number_integer_t) override { return true; }
    bool number_unsigned(number_unsigned_t) override { return true; }
    bool number_float(number_float_t, const string_t&) override { return true; }
    bool string(string_t&) override { return true; }
    bool binary(binary_t&) override { return true; }
    bool start_object(std::size_t) override { return open(); }
    bool start_array(std::size_t) override { return open(); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }
    bool key(string_t& name) override {
        if (keys_.back().insert(name).second) return true;
        trouble = {"The key \"" + shortened(name) + "\" is given twice in one object.", "Remove one."};
        return false;
    }
    bool parse_error(std::size_t at, const std::string&, const nlohmann::detail::exception& error) override {
        std::string what = error.what();
        const std::size_t colon = what.find(": ");
        what = colon == std::string::npos ? what : what.substr(colon + 2);
        // A number beyond a double's range is no syntax error and has no place.
        const bool number = dynamic_cast<const Value::out_of_range*>(&error) != nullptr;
        trouble = number ? Pair{"A number is too large to be read.", "Check the figures in the file."}
                         : Pair{"Not well-formed JSON at ", "Mend that place, or take an older copy of the file."};
        if (!number) position = at, detail = shortened(what);
        return false;
    }

    using Pair = std::pair<std::string, std::string>;
    Pair trouble; ///< message and hint
    std::optional<std::size_t> position;
    std::string detail;

private:
    bool open() {
        keys_.emplace_back();
        if (static_cast<int>(keys_.size()) <= deepest_) return true;
        trouble = {"Objects and lists are nested too deep.", "Check that it is the right file."};
        return false;
    }
    bool close() {
        keys_.pop_back();
        return true;
    }
    int deepest_;
    std::vector<std::set<std::string>> keys_;
};

} // namespace

Result<Value> parse(std::string_view text, std::string_view code, const Bounds& bounds) {
    const std::string name(code);
    if (text.size() > bounds.bytes)
        return fail(name, "The text is larger than such a file can be.", "Check that it is the right file.");
    if (const std::size_t good = well_formed_bytes(text); good != text.size())
        return fail(name, "Not UTF-8 text at " + place(text, good + 1) + ".", "Save the file as UTF-8.");
    Inspector inspector(bounds.depth);
    if (!Value::sax_parse(text, &inspector)) {
        std::string message = inspector.trouble.first;
        if (inspector.position) message += place(text, *inspector.position) + ": " + inspector.detail + ".";
        return fail(name, std::move(message), inspector.trouble.second);
    }
    return Value::parse(text);
}

Node Node::operator[](std::string_view key) const {
    static const Value nothing;
    const std::string path = path_.empty() ? std::string(key) : path_ + "." + std::string(key);
    if (!value_->is_object()) {
        refuse("must be an object, not " + std::string(kind_of(*value_)));
        return {nothing, path, *trouble_};
    }
    const auto at = value_->find(key);
    if (at == value_->end()) {
        trouble_->say((path_.empty() ? std::string("The file") : path_) + " lacks \"" + std::string(key) + "\".");
        return {nothing, path, *trouble_};
    }
    return {*at, path, *trouble_};
}

std::optional<Node> Node::find(std::string_view key) const {
    if (!value_->is_object() || !value_->contains(key)) return std::nullopt;
    return (*this)[key];
}

void Node::allow_only(std::initializer_list<std::string_view> keys) const {
    allow_only(std::vector<std::string_view>(keys));
}

void Node::allow_only(const std::vector<std::string_view>& keys) const {
    if (!value_->is_object()) return refuse("must be an object, not " + std::string(kind_of(*value_)));
    for (const auto& item : value_->items())
        if (std::find(keys.begin(), keys.end(), item.key()) == keys.end())
            trouble_->say((path_.empty() ? std::string("The file") : path_) + " has an unknown key \"" +
                              shortened(item.key()) + "\".",
                          "Check its spelling, or open the file with the version that wrote it.");
}

std::vector<Node> Node::elements() const {
    std::vector<Node> nodes;
    if (!value_->is_array()) {
        refuse("must be a list, not " + std::string(kind_of(*value_)));
        return nodes;
    }
    nodes.reserve(value_->size());
    for (const Value& value : *value_)
        nodes.emplace_back(value, path_ + "[" + std::to_string(nodes.size()) + "]", *trouble_);
    return nodes;
}

double Node::number(double least, double most) const {
    if (!value_->is_number()) {
        refuse("must be a number, not " + std::string(kind_of(*value_)));
        return least;
    }
    const auto value = value_->get<double>();
    if (!(value >= least && value <= most)) {
        trouble_->say_range(path_ + " is " + plain(value) + "; it must be from " + plain(least) + " to " + plain(most) +
                            ".");
        return least;
    }
    return value;
}

std::int64_t Node::integer(std::int64_t least, std::int64_t most) const {
    const double value = number(static_cast<double>(least), static_cast<double>(most));
    if (value != std::floor(value)) {
        refuse("must be a whole number");
        return least;
    }
    return static_cast<std::int64_t>(value);
}

std::string Node::text(std::size_t longest) const {
    if (!value_->is_string()) {
        refuse("must be a text, not " + std::string(kind_of(*value_)));
        return {};
    }
    auto value = value_->get<std::string>();
    if (value.size() > longest) {
        refuse("is longer than " + std::to_string(longest) + " bytes");
        return {};
    }
    return value;
}

bool Node::truth() const {
    if (!value_->is_boolean()) refuse("must be true or false, not " + std::string(kind_of(*value_)));
    return value_->is_boolean() && value_->get<bool>();
}

void Node::refuse(std::string_view what, std::string hint) const {
    trouble_->say((path_.empty() ? std::string("The file") : path_) + " " + std::string(what) + ".", std::move(hint));
}

bool is_utf8(std::string_view text) {
    return well_formed_bytes(text) == text.size();
}

int read_version(const Node& root, const Format& format) {
    if (const Node given = root["format"]; !root.trouble() && given.text() != format.name)
        given.refuse("must be \"" + std::string(format.name) + "\"",
                     "Check that it is " + std::string(format.is_a) + ".");
    const auto version = root["version"].integer(1, 1'000'000);
    if (!root.trouble() && version > format.newest)
        root.trouble().say_as(std::string(format.newer_code),
                              "The " + std::string(format.called) + " has version " + std::to_string(version) +
                                  "; this program knows up to " + std::to_string(format.newest) + ".",
                              std::string(format.newer_hint));
    return static_cast<int>(version);
}

} // namespace touchmark::json
