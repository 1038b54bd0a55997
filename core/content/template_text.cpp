// SPDX-License-Identifier: MIT
#include "core/content/placeholder.h"
#include "core/content/templates.h"

#include <algorithm>
#include <charconv>
#include <set>

namespace touchmark::content {
namespace {

// ISO 1043-1, the usual homopolymers, copolymers and natural polymers, and ISO 18064; from memory.
constexpr std::string_view polymers[] = {
    "ABS",  "ASA",  "CA",   "COC",   "EP",    "ETFE",   "EVAC",  "HIPS",    "LCP",   "MF",   "PA6",  "PA11",
    "PA12", "PA46", "PA66", "PA610", "PA612", "PAEK",   "PAI",   "PAN",     "PB",    "PBAT", "PBS",  "PBT",
    "PC",   "PCL",  "PE",   "PE-HD", "PE-LD", "PE-LLD", "PE-MD", "PE-UHMW", "PEEK",  "PEI",  "PEKK", "PEN",
    "PES",  "PET",  "PETG", "PF",    "PFA",   "PHA",    "PHB",   "PI",      "PIB",   "PLA",  "PMMA", "PMP",
    "POM",  "PP",   "PPA",  "PPE",   "PPS",   "PPSU",   "PS",    "PS-E",    "PS-HI", "PSU",  "PTFE", "PUR",
    "PVAC", "PVAL", "PVC",  "PVDC",  "PVDF",  "SAN",    "SB",    "SBS",     "SI",    "SMAH", "TPA",  "TPC",
    "TPE",  "TPO",  "TPS",  "TPU",   "TPV",   "UF",     "UP"};
// ISO 1043-2: what the filler is, and its form; from memory.
constexpr std::string_view materials = "ABCDEGKLMNPQRSTWXZ", forms = "BCDFGHKLMNPRSTVWXYZ";

std::vector<std::string> components_of(std::string_view text) {
    std::vector<std::string> parts;
    for (;;) {
        const auto plus = text.find('+');
        parts.emplace_back(text.substr(0, plus));
        if (plus == std::string_view::npos) return parts;
        text.remove_prefix(plus + 1);
    }
}

/// nullopt unless it is a whole number from `least` to `most` and nothing else.
std::optional<int> whole(std::string_view text, int least, int most) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || value < least || value > most) return std::nullopt;
    return value;
}

/// "GF30": material, form, share.
bool is_filler(std::string_view text) {
    return text.size() >= 3 && materials.find(text[0]) != materials.npos && forms.find(text[1]) != forms.npos &&
           whole(text.substr(2), 1, 99).has_value();
}

Content lettering(std::string text) {
    return Text{.text = std::move(text)};
}

} // namespace

Result<Content> plastics_identification(const TemplateValues& values, const FontLibrary&) {
    const std::string &polymer = values.at("polymer"), &filler = values.at("filler");
    const std::string &retardant = values.at("flame_retardant"), &recycled = values.at("recycled");
    if (polymer.empty()) return bad_value("polymer", "is missing: ABS, PA66, PC+ABS …");
    std::set<std::string> seen;
    for (const std::string& one : components_of(polymer)) {
        if (std::ranges::find(polymers, one) == std::end(polymers))
            return bad_value("polymer", "has \"" + one + "\", which is no abbreviation of ISO 1043-1 known here");
        if (!seen.insert(one).second) return bad_value("polymer", "names " + one + " twice");
    }
    std::string said = ">" + polymer;
    if (!filler.empty()) {
        int sum = 0;
        const auto fillers = components_of(filler);
        for (const std::string& one : fillers) {
            if (!is_filler(one))
                return bad_value("filler", "has \"" + one + "\"; it wants a code of ISO 1043-2 and its share, as GF30");
            sum += *whole(std::string_view(one).substr(2), 1, 99);
        }
        if (sum > 99) return bad_value("filler", "comes to 100 per cent or more");
        said += fillers.size() > 1 ? "-(" + filler + ")" : "-" + filler;
    }
    if (!retardant.empty()) {
        if (!whole(retardant, 10, 99))
            return bad_value("flame_retardant", "is no code number of ISO 1043-4 (10 to 99)");
        said += (filler.empty() ? "-FR(" : "FR(") + retardant + ")";
    }
    if (!recycled.empty()) {
        if (!whole(recycled, 1, 100)) return bad_value("recycled", "is no share from 1 to 100");
        said += "(REC" + recycled + ")";
    }
    return lettering(said + "<");
}

Result<Content> patent_notice(const TemplateValues& values, const FontLibrary&) {
    const std::string &number = values.at("number"), &address = values.at("address");
    if (number.empty() == address.empty()) return bad_value("number", "or the address is wanted, one of the two");
    if (!number.empty() && !has_braces(number) &&
        std::ranges::none_of(number, [](char c) { return c >= '0' && c <= '9'; }))
        return bad_value("number", "has no figure");
    return lettering("PAT. " + (number.empty() ? address : number));
}

Result<Content> part_and_revision(const TemplateValues& values, const FontLibrary&) {
    const std::string &part = values.at("part"), &revision = values.at("revision");
    if (part.empty()) return bad_value("part", "is missing");
    return lettering(part + (revision.empty() ? "" : "\nREV " + revision));
}

Result<Content> unit_serial(const TemplateValues& values, const FontLibrary&) {
    const auto digits = whole(values.at("digits"), 1, 12);
    if (!digits) return bad_value("digits", "is no number from 1 to 12");
    std::string number = values.at("number");
    if (has_braces(number)) return lettering(values.at("prefix") + number); // a variable has its own figures
    if (number.empty() || number.find_first_not_of("0123456789") != number.npos)
        return bad_value("number", "is no whole number");
    number.erase(0, std::min(number.find_first_not_of('0'), number.size() - 1));
    if (number.size() > static_cast<std::size_t>(*digits))
        return bad_value("number", "has more figures than there is room");
    return lettering(values.at("prefix") + std::string(static_cast<std::size_t>(*digits) - number.size(), '0') +
                     number);
}

} // namespace touchmark::content
