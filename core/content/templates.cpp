// SPDX-License-Identifier: MIT
#include "core/content/templates.h"

#include <algorithm>

namespace touchmark::content {

std::span<const Template> templates() {
    static const std::vector<Template> table{
        {"plastics",
         "Plastics identification",
         "ISO 11469 with the codes of ISO 1043-1, -2 and -4 (lists of codes and the place of FR from memory)",
         "Materials engineer; waste rules of the market",
         {{"polymer", "", "ISO 1043-1: ABS, PA66, PP …; blends main component first: PC+ABS"},
          {"filler", "", "ISO 1043-2 with its share in per cent: GF30, or GF25+MD15"},
          {"flame_retardant", "", "ISO 1043-4 code number: 40 writes FR(40)"},
          {"recycled", "", "Share of recyclate in per cent: 30 writes (REC30)"}},
         plastics_identification},
        {"resin",
         "Resin identification number",
         "ASTM D7611 (solid triangle since 2013, abbreviations; from memory)",
         "Materials engineer; packaging rules of the market",
         {{"number", "", "1 PETE, 2 HDPE, 3 V, 4 LDPE, 5 PP, 6 PS, 7 OTHER"}},
         resin_number},
        {"patent",
         "Patent notice",
         "35 USC 287(a): \"patent\" or \"pat.\" with the number, or with a free address on the internet",
         "Patent counsel",
         {{"number", "", "The patent's number, as counsel gives it"},
          {"address", "", "An address on the internet that lists the patents; instead of the number"}},
         patent_notice},
        {"ce",
         "CE mark",
         "Regulation (EC) 765/2008, Annex II: proportions of its grid (from memory), at least 5 mm high",
         "Whoever signs the declaration of conformity",
         {{"height", "5", "Millimetres, 5 at least"}},
         ce_mark},
        {"bin",
         "Crossed-out wheeled bin",
         "EN 50419: bin, cross and solid bar (drawn here from memory, not traced)",
         "Product compliance; waste rules of the market",
         {{"height", "10", "Millimetres, bar included, 5 at least"}},
         crossed_out_bin},
        {"part",
         "Part number and revision",
         "Common practice, no source",
         "Whoever releases the drawing",
         {{"part", "", "The part's number"}, {"revision", "", "Its revision"}},
         part_and_revision},
        {"date_dial",
         "Date dial",
         "Common practice, no source",
         "Quality engineer",
         {{"year", "", "Two or four figures"}, {"month", "", "1 to 12"}, {"diameter", "20", "Millimetres"}},
         date_dial},
        {"serial",
         "Unit serial",
         "Common practice, no source",
         "Quality engineer",
         {{"prefix", "SN ", "Before the number"},
          {"number", "1", "A whole number, or a variable: {serial}"},
          {"digits", "6", "1 to 12"}},
         unit_serial}};
    return table;
}

const Template* find_template(std::string_view key) {
    const auto row = std::ranges::find(templates(), key, &Template::key);
    return row == templates().end() ? nullptr : &*row;
}

std::unexpected<Error> bad_value(std::string_view field, std::string_view why) {
    return fail("content.template_value", "The value " + std::string(field) + " " + std::string(why) + ".");
}

Result<Content> from_template(std::string_view key, const TemplateValues& given, const FontLibrary& fonts) {
    const Template* row = find_template(key);
    if (!row) {
        std::string all;
        for (const Template& one : templates())
            all += (all.empty() ? "" : ", ") + std::string(one.key);
        return fail("content.template", "There is no template \"" + std::string(key) + "\".", "There are " + all + ".");
    }
    TemplateValues values;
    for (const TemplateField& field : row->fields)
        values.emplace(field.key, field.standard);
    for (const auto& [name, value] : given) {
        const auto place = values.find(name);
        if (place == values.end()) return bad_value(name, "is unknown to the template " + std::string(key));
        if (value.size() > 200 || std::ranges::any_of(value, [](unsigned char c) { return c < 0x20; }))
            return bad_value(name, "is too long, or holds a control character");
        place->second = value;
    }
    return row->make(values, fonts);
}

} // namespace touchmark::content
