// SPDX-License-Identifier: MIT
#include "core/part/prescan.h"

#include <algorithm>
#include <cctype>
#include <cstdint>
#include <cstring>
#include <optional>
#include <unordered_set>
#include <vector>

// The clauses are those of ISO 10303-21:2016, "Clear text encoding of the exchange structure".

namespace touchmark::part {
namespace {

constexpr std::string_view opening = "ISO-10303-21", closing = "END-ISO-10303-21";

// Without the locale that <cctype> asks each time.
constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
constexpr bool is_letter(char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '_';
}
constexpr bool is_word(char c) {
    return is_letter(c) || is_digit(c);
}
constexpr char upper(char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

/// Bytes ≥ 0x80 that form UTF-8 all through are UTF-8; anything else is taken for Latin-1, the usual slip of older
/// systems.
Encoding encoding_of(std::string_view text) {
    bool ascii = true;
    for (std::size_t i = 0; i < text.size();) {
        const auto c = static_cast<unsigned char>(text[i++]);
        if (c < 0x80) continue;
        ascii = false;
        const int following = c >= 0xC2 && c < 0xE0 ? 1 : c >= 0xE0 && c < 0xF0 ? 2 : c >= 0xF0 && c < 0xF5 ? 3 : 0;
        if (following == 0) return Encoding::latin1;
        for (int k = 0; k < following; ++k, ++i)
            if (i >= text.size() || (static_cast<unsigned char>(text[i]) & 0xC0) != 0x80) return Encoding::latin1;
    }
    return ascii ? Encoding::ascii : Encoding::utf8;
}

/// Steps over the text word by word; strings, binaries and comments are skipped (clauses 6.4.3, 6.4.5, 6.3).
class Scanner {
public:
    explicit Scanner(std::string_view text, std::size_t from = 0) : text_(text), at_(from) {}

    enum class Token { end, word, instance, mark };
    Token next() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '\'' || c == '"') {
                skip_to(c);
            } else if (c == '/' && at_ + 1 < text_.size() && text_[at_ + 1] == '*') {
                const std::size_t end = text_.find("*/", at_ + 2);
                at_ = end == std::string_view::npos ? text_.size() : end + 2;
            } else if (is_letter(c)) {
                return word();
            } else if (c == '#') {
                return instance();
            } else if (is_digit(c) || c == '+' || c == '-') {
                return number();
            } else if (c == ';' || c == '(' || c == ')' || c == ',' || c == '=') {
                token_ = text_.substr(at_++, 1);
                return Token::mark;
            } else if (c == '.') {
                skip_enumeration();
            } else {
                ++at_;
            }
        }
        return Token::end;
    }
    [[nodiscard]] std::string_view token() const { return token_; }
    [[nodiscard]] std::uint64_t id() const { return id_; }
    [[nodiscard]] bool not_a_number() const { return not_a_number_; }
    [[nodiscard]] std::size_t at() const { return at_; }

private:
    void skip_to(char quote) {
        const void* end = std::memchr(text_.data() + at_ + 1, quote, text_.size() - at_ - 1);
        at_ = end ? static_cast<std::size_t>(static_cast<const char*>(end) - text_.data()) + 1 : text_.size();
    }
    void skip_enumeration() {
        ++at_;
        const std::size_t begin = at_;
        while (at_ < text_.size() && is_word(text_[at_]))
            ++at_;
        if (at_ < text_.size() && text_[at_] == '.' && at_ > begin) ++at_;
    }
    Token word() {
        const std::size_t begin = at_;
        while (at_ < text_.size() && (is_word(text_[at_]) || text_[at_] == '-'))
            ++at_;
        token_ = text_.substr(begin, at_ - begin);
        return Token::word;
    }
    Token instance() {
        ++at_;
        id_ = 0;
        const std::size_t begin = at_;
        for (; at_ < text_.size() && is_digit(text_[at_]); ++at_)
            id_ = id_ * 10 + static_cast<std::uint64_t>(text_[at_] - '0');
        if (at_ == begin) not_a_number_ = true; // 1.#QNAN
        return Token::instance;
    }
    /// REAL is sign digits . digits E sign digits (clause 6.4.2); letters other than E are a printed NaN or infinity.
    Token number() {
        const std::size_t begin = at_;
        while (at_ < text_.size() &&
               (is_word(text_[at_]) || text_[at_] == '.' || text_[at_] == '+' || text_[at_] == '-'))
            ++at_;
        token_ = text_.substr(begin, at_ - begin);
        std::size_t exponent = std::string_view::npos;
        for (std::size_t i = 0; i < token_.size(); ++i) {
            if (!is_letter(token_[i])) continue;
            if (upper(token_[i]) != 'E') not_a_number_ = true;
            exponent = i + 1;
        }
        if (exponent < token_.size() && token_[exponent] != '-') {
            const std::string_view digits = token_.substr(exponent + (token_[exponent] == '+'));
            if (digits.size() > 3 || (digits.size() == 3 && digits > "150"))
                not_a_number_ = true; // its square is infinite
        }
        if (at_ < text_.size() && text_[at_] == '#') not_a_number_ = true;
        return Token::word;
    }

    std::string_view text_, token_;
    std::size_t at_;
    std::uint64_t id_ = 0;
    bool not_a_number_ = false;
};

bool same_word(std::string_view a, std::string_view upper_case) {
    return std::ranges::equal(a, upper_case, [](char x, char y) { return upper(x) == y; });
}

bool is_not_a_number(std::string_view word) {
    if (word.size() > 8 || word.size() < 3) return false;
    constexpr std::string_view names[] = {"NAN", "INF", "INFINITY", "QNAN", "SNAN", "IND"};
    return std::ranges::any_of(names, [&](std::string_view name) { return same_word(word, name); });
}

/// Facts gathered over the DATA section.
struct Data {
    std::size_t instances = 0, points = 0, solids = 0;
    std::uint64_t not_a_number = 0; ///< instance that holds one
    std::uint64_t dangling = 0;
    std::unordered_set<std::uint64_t> flat; ///< points and directions of two components: right only in p-curves
    bool bad_number = false;
};

/// Components of the list that is the second argument: NAME('',(x,y)).
int components(std::string_view text, std::size_t from) {
    int depth = 0, commas = 0;
    bool inside = false, quoted = false;
    for (std::size_t i = from; i < text.size() && i < from + 4096; ++i) {
        const char c = text[i];
        if (c == '\'') quoted = !quoted;
        if (quoted) continue;
        if (c == '(' && ++depth == 2) inside = true;
        if (c == ',' && inside) ++commas;
        if (c == ')' && (--depth, inside)) return commas + 1;
        if (c == ';') break;
    }
    return 0;
}

/// Which entities there are, and which are asked for.
class References {
public:
    void define(std::uint64_t id) {
        if (id > largest) return;
        if (id >= defined_.size()) defined_.resize(std::max<std::size_t>(id + 1, defined_.size() * 2));
        defined_[id] = 1;
    }
    void ask(std::uint64_t id) { asked_.push_back(id); }
    [[nodiscard]] std::uint64_t dangling() const {
        for (const std::uint64_t id : asked_)
            if (id <= largest && (id >= defined_.size() || !defined_[id])) return id;
        return 0;
    }

private:
    static constexpr std::uint64_t largest = 1u << 28;
    std::vector<char> defined_;
    std::vector<std::uint64_t> asked_;
};

bool is_solid(std::string_view word) {
    return word == "MANIFOLD_SOLID_BREP" || word == "BREP_WITH_VOIDS" || word == "FACETED_BREP";
}

Data scan_data(std::string_view text, std::size_t from) {
    Data data;
    References references;
    Scanner scanner(text, from);
    std::uint64_t current = 0, candidate = 0;
    bool at_start = true;
    for (auto token = scanner.next(); token != Scanner::Token::end; token = scanner.next()) {
        if (token == Scanner::Token::instance) {
            candidate = scanner.id();
            if (!at_start) references.ask(candidate);
        } else if (token == Scanner::Token::mark) {
            if (scanner.token() == ";") at_start = true;
            if (scanner.token() == "=" && at_start) {
                current = candidate;
                at_start = false;
                ++data.instances;
                references.define(current);
            }
        } else if (is_not_a_number(scanner.token())) {
            data.bad_number = true;
        } else if (scanner.token() == "CARTESIAN_POINT" || scanner.token() == "DIRECTION") {
            data.points += scanner.token().front() == 'C';
            if (components(text, scanner.at()) == 2) data.flat.insert(current);
        } else if (is_solid(scanner.token())) {
            ++data.solids;
        }
        if (data.bad_number || scanner.not_a_number()) {
            data.bad_number = true;
            data.not_a_number = current;
            return data;
        }
    }
    data.dangling = references.dangling();
    return data;
}

/// The first instance that needs three components and refers to something with two; OpenCASCADE reads past the end
/// there.
std::optional<std::uint64_t> needs_three(std::string_view text, std::size_t from,
                                         const std::unordered_set<std::uint64_t>& flat) {
    Scanner scanner(text, from);
    bool spatial = false;
    for (auto token = scanner.next(); token != Scanner::Token::end; token = scanner.next()) {
        if (token == Scanner::Token::word && is_letter(scanner.token().front())) {
            const std::string_view word = scanner.token();
            spatial = word == "VERTEX_POINT" || word == "AXIS2_PLACEMENT_3D" || word == "AXIS1_PLACEMENT" ||
                      word == "POLY_LOOP" || word == "B_SPLINE_SURFACE_WITH_KNOTS" || word == "B_SPLINE_SURFACE";
        } else if (token == Scanner::Token::mark && scanner.token() == ";") {
            spatial = false;
        } else if (token == Scanner::Token::instance && spatial && flat.contains(scanner.id())) {
            return scanner.id();
        }
    }
    return std::nullopt;
}

/// Where the first DATA section's keyword ends; the text's end when there is none.
std::size_t data_section(std::string_view text, std::size_t from) {
    Scanner scanner(text, from);
    for (auto token = scanner.next(); token != Scanner::Token::end; token = scanner.next())
        if (token == Scanner::Token::word && scanner.token() == "DATA") return scanner.at();
    return text.size();
}

std::string schema_of(std::string_view header) {
    const std::size_t keyword = header.find("FILE_SCHEMA");
    if (keyword == std::string_view::npos) return {};
    const std::size_t begin = header.find('\'', keyword);
    if (begin == std::string_view::npos) return {};
    const std::size_t end = header.find('\'', begin + 1);
    return end == std::string_view::npos ? std::string() : std::string(header.substr(begin + 1, end - begin - 1));
}

/// From CONVERSION_BASED_UNIT('INCH', …) or SI_UNIT(.MILLI.,.METRE.) of an instance that is a LENGTH_UNIT.
std::string unit_of(std::string_view text) {
    std::string si;
    for (std::size_t at = text.find("LENGTH_UNIT"); at != std::string_view::npos;
         at = text.find("LENGTH_UNIT", at + 1)) {
        const std::size_t before = text.rfind(';', at), after = text.find(';', at);
        if (before == std::string_view::npos || after == std::string_view::npos) continue;
        const std::string_view instance = text.substr(before, after - before);
        if (const std::size_t named = instance.find("CONVERSION_BASED_UNIT"); named != std::string_view::npos) {
            const std::size_t begin = instance.find('\'', named);
            const std::size_t end = begin == std::string_view::npos ? begin : instance.find('\'', begin + 1);
            if (end == std::string_view::npos) continue;
            std::string name(instance.substr(begin + 1, end - begin - 1));
            std::ranges::transform(name, name.begin(), [](unsigned char c) { return std::tolower(c); });
            return name;
        }
        if (si.empty() && instance.find(".METRE.") != std::string_view::npos)
            si = instance.find(".MILLI.") != std::string_view::npos   ? "mm"
                 : instance.find(".CENTI.") != std::string_view::npos ? "cm"
                 : instance.find(".MICRO.") != std::string_view::npos ? "µm"
                                                                      : "m";
    }
    return si;
}

} // namespace

Result<Prescan> prescan(std::span<const char> bytes, const std::string& name) {
    const std::string_view text(bytes.data(), bytes.size());
    if (text.empty())
        return fail("part.empty", "\"" + name + "\" is empty (0 bytes).", "Export or copy the file again.");
    Prescan found;
    if (text.starts_with("\xEF\xBB\xBF")) found.begin = 3;
    while (found.begin < text.size() && std::isspace(static_cast<unsigned char>(text[found.begin])))
        ++found.begin;
    if (!text.substr(found.begin).starts_with(opening)) {
        if (opening.starts_with(text.substr(found.begin)))
            return fail("part.truncated", "\"" + name + "\" ends within its first line.",
                        "Copy or export the file again.");
        return fail("part.not_step", "\"" + name + "\" is not a STEP file: it does not start with ISO-10303-21.",
                    "Export the part from the design program as STEP (AP203, AP214 or AP242).");
    }
    const bool complete =
        text.find(closing, text.size() - std::min<std::size_t>(text.size(), 4096)) != std::string_view::npos;
    if (!complete)
        return fail("part.truncated", "\"" + name + "\" is cut short: its closing line END-ISO-10303-21 is missing.",
                    "Copy or export the file again; the rest of it got lost on the way.");
    const std::size_t data = data_section(text, found.begin);
    found.schema = schema_of(text.substr(0, data));
    found.encoding = encoding_of(text);
    const Data scanned = scan_data(text, data);
    if (scanned.bad_number)
        return fail("part.bad_geometry",
                    "\"" + name + "\" holds something else where a number belongs, in entity #" +
                        std::to_string(scanned.not_a_number) + ".",
                    "Repair the part in the design program and export it again.");
    if (scanned.instances == 0)
        return fail("part.empty", "\"" + name + "\" has no entities in its data section.",
                    "Export the part again; nothing was selected or visible, perhaps.");
    if (!scanned.flat.empty())
        if (const auto entity = needs_three(text, data, scanned.flat))
            return fail("part.bad_geometry",
                        "\"" + name + "\" uses #" + std::to_string(*entity) +
                            ", which has two components, where a point or direction in space is needed.",
                        "Repair the part in the design program and export it again.");
    found.unit = unit_of(text);
    found.points = scanned.points;
    found.solids = scanned.solids;
    found.dangling = scanned.dangling;
    return found;
}

} // namespace touchmark::part
