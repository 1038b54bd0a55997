// SPDX-License-Identifier: MIT
#include "tests/core/deliver/part21.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>

namespace touchmark::test {

namespace {

/// What an attribute may be: a string (s), real (r), integer (i), truth value (b), logical value (l), enumeration (e),
/// derived (*), a list of such in parentheses, or an instance of one of the types named; # for an instance of any.
struct Rule {
    const char *type, *attributes;
};

constexpr const char* curves = "LINE|CIRCLE|ELLIPSE|B_SPLINE_CURVE_WITH_KNOTS|SURFACE_CURVE|SEAM_CURVE|";
constexpr const char* surfaces =
    "PLANE|CYLINDRICAL_SURFACE|CONICAL_SURFACE|SPHERICAL_SURFACE|TOROIDAL_SURFACE|"
    "SURFACE_OF_LINEAR_EXTRUSION|SURFACE_OF_REVOLUTION|B_SPLINE_SURFACE_WITH_KNOTS|OFFSET_SURFACE|";

constexpr Rule rules[] = {
    {"CARTESIAN_POINT", "s (r)"},
    {"DIRECTION", "s (r)"},
    {"VECTOR", "s DIRECTION r"},
    {"AXIS2_PLACEMENT_3D", "s CARTESIAN_POINT DIRECTION DIRECTION"},
    {"LINE", "s CARTESIAN_POINT VECTOR"},
    {"CIRCLE", "s AXIS2_PLACEMENT_3D r"},
    {"ELLIPSE", "s AXIS2_PLACEMENT_3D r r"},
    {"B_SPLINE_CURVE_WITH_KNOTS", "s i (CARTESIAN_POINT) e l l (i) (r) e"},
    {"PLANE", "s AXIS2_PLACEMENT_3D"},
    {"CYLINDRICAL_SURFACE", "s AXIS2_PLACEMENT_3D r"},
    {"CONICAL_SURFACE", "s AXIS2_PLACEMENT_3D r r"},
    {"SURFACE_OF_LINEAR_EXTRUSION", "s CURVE VECTOR"},
    {"OFFSET_SURFACE", "s SURFACE r l"},
    {"B_SPLINE_SURFACE_WITH_KNOTS", "s i i ((CARTESIAN_POINT)) e l l l (i) (i) (r) (r) e"},
    {"VERTEX_POINT", "s CARTESIAN_POINT"},
    {"EDGE_CURVE", "s VERTEX_POINT VERTEX_POINT CURVE b"},
    {"ORIENTED_EDGE", "s * * EDGE_CURVE b"},
    {"EDGE_LOOP", "s (ORIENTED_EDGE)"},
    {"FACE_BOUND", "s EDGE_LOOP|VERTEX_LOOP b"},
    {"FACE_OUTER_BOUND", "s EDGE_LOOP|VERTEX_LOOP b"},
    {"ADVANCED_FACE", "s (FACE_BOUND|FACE_OUTER_BOUND) SURFACE b"},
    {"CLOSED_SHELL", "s (ADVANCED_FACE)"},
    {"ORIENTED_CLOSED_SHELL", "s * CLOSED_SHELL b"},
    {"MANIFOLD_SOLID_BREP", "s CLOSED_SHELL"},
    {"BREP_WITH_VOIDS", "s CLOSED_SHELL (ORIENTED_CLOSED_SHELL)"},
    {"STYLED_ITEM", "s (PRESENTATION_STYLE_ASSIGNMENT) #"},
    {"OVER_RIDING_STYLED_ITEM", "s (PRESENTATION_STYLE_ASSIGNMENT) # STYLED_ITEM"},
    {"PRESENTATION_STYLE_ASSIGNMENT", "(SURFACE_STYLE_USAGE|CURVE_STYLE)"},
    {"SURFACE_STYLE_USAGE", "e SURFACE_SIDE_STYLE"},
    {"SURFACE_SIDE_STYLE", "s (SURFACE_STYLE_FILL_AREA)"},
    {"SURFACE_STYLE_FILL_AREA", "FILL_AREA_STYLE"},
    {"FILL_AREA_STYLE", "s (FILL_AREA_STYLE_COLOUR)"},
    {"FILL_AREA_STYLE_COLOUR", "s COLOUR_RGB|DRAUGHTING_PRE_DEFINED_COLOUR"},
    {"COLOUR_RGB", "s r r r"},
};

std::vector<std::string_view> words(std::string_view text, char by) {
    std::vector<std::string_view> out;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(by), text.size());
        out.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return out;
}

bool is_one_of(std::string_view type, std::string_view wanted) {
    if (wanted == "#" || type.empty()) return true; // a complex instance: a rational spline or a unit
    const std::string_view all = wanted == "CURVE" ? curves : wanted == "SURFACE" ? surfaces : wanted;
    const auto names = words(all, '|');
    return std::find(names.begin(), names.end(), type) != names.end();
}

bool fits(std::string_view value, std::string_view wanted, const std::map<int, Part21::Entity>& entities) {
    if (wanted.starts_with('(')) {
        if (!value.starts_with('(') || value.size() < 3) return false; // no list of these may be empty
        int depth = 0;
        std::size_t begin = 1;
        for (std::size_t at = 1; at < value.size(); ++at) {
            depth += value[at] == '(' ? 1 : value[at] == ')' ? -1 : 0;
            if (!(value[at] == ',' && depth == 0) && depth >= 0) continue;
            std::string_view element = value.substr(begin, at - begin);
            while (!element.empty() && std::isspace(static_cast<unsigned char>(element.front())) != 0)
                element.remove_prefix(1);
            while (!element.empty() && std::isspace(static_cast<unsigned char>(element.back())) != 0)
                element.remove_suffix(1);
            if (!fits(element, wanted.substr(1, wanted.size() - 2), entities)) return false;
            begin = at + 1;
        }
        return true;
    }
    if (value.empty()) return false;
    const bool number = std::isdigit(static_cast<unsigned char>(value.front())) != 0 || value.front() == '-';
    if (wanted == "s") return value.front() == '\'';
    if (wanted == "*") return value == "*";
    if (wanted == "b") return value == ".T." || value == ".F.";
    if (wanted == "l") return value == ".T." || value == ".F." || value == ".U.";
    if (wanted == "e") return value.front() == '.';
    if (wanted == "r") return number && value.find('.') != std::string_view::npos;
    if (wanted == "i") return number && value.find('.') == std::string_view::npos;
    if (value.front() != '#') return false;
    const auto found = entities.find(std::atoi(std::string(value.substr(1)).c_str()));
    return found != entities.end() && is_one_of(found->second.type, wanted);
}

} // namespace

void Part21::check_attributes() const {
    std::map<std::string_view, std::vector<std::string_view>> wanted;
    for (const Rule& rule : rules)
        wanted[rule.type] = words(rule.attributes, ' ');
    for (const auto& [id, entity] : entities) {
        const auto rule = wanted.find(entity.type);
        if (rule == wanted.end()) continue;
        bool good = rule->second.size() == entity.attributes.size();
        for (std::size_t i = 0; good && i < entity.attributes.size(); ++i)
            good = fits(entity.attributes[i], rule->second[i], entities);
        if (!good) throw std::runtime_error("#" + std::to_string(id) + " is no " + entity.type);
    }
}

Part21::Part21(std::string_view text) : text_(text) {
    expect("ISO-10303-21;");
    header();
    expect("DATA;");
    for (blanks(); next('#');)
        instance();
    expect("ENDSEC;");
    expect("END-ISO-10303-21;");
    blanks();
    if (at_ != text_.size()) fail("something follows the end");
    for (const auto& [id, to] : references)
        for (const int target : to)
            if (!references.contains(target))
                fail("#" + std::to_string(id) + " refers to #" + std::to_string(target) + ", which is missing");
    check_attributes();
}

void Part21::fail(const std::string& what) const {
    throw std::runtime_error("byte " + std::to_string(at_) + ": " + what + " near " +
                             std::string(text_.substr(at_, 60)));
}

void Part21::blanks() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_])) != 0)
        ++at_;
}

bool Part21::next(char c) {
    blanks();
    return at_ < text_.size() && text_[at_] == c;
}

void Part21::expect(char c) {
    if (!next(c)) fail(std::string("expected ") + c);
    ++at_;
}

void Part21::expect(std::string_view word) {
    blanks();
    if (text_.substr(at_, word.size()) != word) fail("expected " + std::string(word));
    at_ += word.size();
}

/// STANDARD_KEYWORD = UPPER { UPPER | DIGIT } where UPPER holds the underline.
std::string Part21::keyword() {
    blanks();
    const std::size_t begin = at_;
    while (at_ < text_.size() && (std::isupper(static_cast<unsigned char>(text_[at_])) != 0 || text_[at_] == '_' ||
                                  (at_ > begin && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)))
        ++at_;
    if (at_ == begin) fail("expected a keyword");
    return std::string(text_.substr(begin, at_ - begin));
}

/// ENTITY_INSTANCE_NAME = "#" DIGIT { DIGIT }.
int Part21::number() {
    expect('#');
    int value = 0;
    const std::size_t begin = at_;
    while (at_ < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)
        value = value * 10 + (text_[at_++] - '0');
    if (at_ == begin || value == 0) fail("an instance needs a number above nought");
    return value;
}

/// Printable ASCII; an apostrophe is doubled.
void Part21::string() {
    expect('\'');
    while (at_ < text_.size()) {
        const char c = text_[at_++];
        if (c != '\'') {
            if (c < 0x20 || c > 0x7e) fail("a character that strings may not hold");
            continue;
        }
        if (at_ >= text_.size() || text_[at_] != '\'') return;
        ++at_;
    }
    fail("a string does not end");
}

/// REAL = [SIGN] DIGIT {DIGIT} "." {DIGIT} [ "E" [SIGN] DIGIT {DIGIT} ]; INTEGER has no point.
void Part21::real_or_integer() {
    const auto digits = [&] {
        const std::size_t begin = at_;
        while (at_ < text_.size() && std::isdigit(static_cast<unsigned char>(text_[at_])) != 0)
            ++at_;
        return at_ > begin;
    };
    const auto sign = [&] {
        if (at_ < text_.size() && (text_[at_] == '+' || text_[at_] == '-')) ++at_;
    };
    sign();
    if (!digits()) fail("expected a digit");
    if (at_ >= text_.size() || text_[at_] != '.') return;
    ++at_;
    digits();
    if (at_ >= text_.size() || text_[at_] != 'E') return;
    ++at_;
    sign();
    if (!digits()) fail("expected an exponent");
}

void Part21::enumeration() {
    expect('.');
    keyword();
    expect('.');
}

void Part21::parameter() {
    blanks();
    if (at_ >= text_.size()) fail("expected a parameter");
    const char c = text_[at_];
    if (c == '$' || c == '*')
        ++at_;
    else if (c == '\'')
        string();
    else if (c == '.')
        enumeration();
    else if (c == '#')
        into_->insert(number());
    else if (c == '(')
        parameters();
    else if (std::isupper(static_cast<unsigned char>(c)) != 0) {
        keyword(); // a typed parameter
        expect('(');
        parameter();
        expect(')');
    } else
        real_or_integer();
}

void Part21::parameters() {
    expect('(');
    if (!next(')')) {
        parameter();
        while (next(',')) {
            ++at_;
            parameter();
        }
    }
    expect(')');
}

Part21::Entity Part21::record() {
    Entity entity{keyword(), {}};
    ++types[entity.type];
    expect('(');
    while (!next(')')) {
        if (!entity.attributes.empty()) expect(',');
        blanks();
        const std::size_t begin = at_;
        parameter();
        entity.attributes.push_back(text_.substr(begin, at_ - begin));
    }
    expect(')');
    return entity;
}

void Part21::header() {
    std::set<int> none;
    into_ = &none;
    expect("HEADER;");
    for (const std::string_view entity : {"FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"}) {
        expect(entity);
        parameters();
        expect(';');
    }
    expect("ENDSEC;");
    if (!none.empty()) fail("the header refers to the data");
}

void Part21::instance() {
    const int id = number();
    const auto [place, fresh] = references.try_emplace(id);
    if (!fresh) fail("#" + std::to_string(id) + " is given twice");
    into_ = &place->second;
    expect('=');
    if (next('(')) {
        ++at_;
        while (!next(')'))
            (void)record();
        expect(')');
        entities[id] = {};
    } else {
        entities[id] = record();
    }
    expect(';');
}

} // namespace touchmark::test
