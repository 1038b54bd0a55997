// SPDX-License-Identifier: MIT
#include "core/content/svg_document.h"

#include <expat.h>

namespace touchmark::content::svg {
namespace {

constexpr std::string_view svg_namespace = "http://www.w3.org/2000/svg";
constexpr std::string_view link_namespace = "http://www.w3.org/1999/xlink";
constexpr char separator = '\n'; // between a namespace and a name; neither can hold it

/// Fed by expat.
struct Builder {
    Document document;
    std::vector<Element*> open;
    std::size_t count = 0;
    bool too_much = false;
    XML_Parser parser = nullptr;

    void stop() {
        too_much = true;
        XML_StopParser(parser, XML_FALSE);
    }
};

std::pair<std::string_view, std::string_view> split_name(std::string_view name) {
    const auto at = name.find(separator);
    if (at == std::string_view::npos) return {{}, name};
    return {name.substr(0, at), name.substr(at + 1)};
}

void on_start(void* user, const XML_Char* name, const XML_Char** attributes) {
    auto& builder = *static_cast<Builder*>(user);
    if (builder.too_much) return;
    if (++builder.count > most_elements || builder.open.size() >= deepest_element) return builder.stop();
    auto element = std::make_unique<Element>();
    const auto [space, local] = split_name(name);
    element->name = local;
    element->foreign = !space.empty() && space != svg_namespace;
    for (; *attributes; attributes += 2) {
        const auto [home, key] = split_name(attributes[0]);
        if (home.empty() || home == link_namespace) element->attributes.emplace(key, attributes[1]);
    }
    Element* raw = element.get();
    if (const std::string_view id = raw->attribute("id"); !id.empty())
        builder.document.by_id.emplace(std::string(id), raw);
    if (builder.open.empty())
        builder.document.root = std::move(element);
    else
        builder.open.back()->children.push_back(std::move(element));
    builder.open.push_back(raw);
}

void on_end(void* user, const XML_Char*) {
    auto& builder = *static_cast<Builder*>(user);
    if (!builder.open.empty()) builder.open.pop_back();
}

void on_text(void* user, const XML_Char* text, int length) {
    auto& builder = *static_cast<Builder*>(user);
    if (!builder.open.empty()) builder.open.back()->text.append(text, static_cast<std::size_t>(length));
}

} // namespace

std::string_view Element::attribute(std::string_view key) const {
    const auto found = attributes.find(key);
    return found == attributes.end() ? std::string_view() : std::string_view(found->second);
}

Result<Document> parse_document(std::string_view text) {
    const std::unique_ptr<XML_ParserStruct, decltype(&XML_ParserFree)> parser(XML_ParserCreateNS("UTF-8", separator),
                                                                              &XML_ParserFree);
    Builder builder;
    builder.parser = parser.get();
    XML_SetUserData(parser.get(), &builder);
    XML_SetElementHandler(parser.get(), on_start, on_end);
    XML_SetCharacterDataHandler(parser.get(), on_text);
    const auto status = XML_Parse(parser.get(), text.data(), static_cast<int>(text.size()), XML_TRUE);
    if (builder.too_much || XML_GetErrorCode(parser.get()) == XML_ERROR_AMPLIFICATION_LIMIT_BREACH)
        return fail("content.art_too_complex", "The drawing has too many elements, or they are nested too deeply.",
                    "Simplify it in a drawing program.");
    if (status != XML_STATUS_OK)
        return fail("content.art_malformed",
                    "The drawing is not well-formed SVG: line " +
                        std::to_string(XML_GetCurrentLineNumber(parser.get())) + ": " +
                        XML_ErrorString(XML_GetErrorCode(parser.get())) + ".",
                    "Export it again from a drawing program.");
    if (!builder.document.root || builder.document.root->name != "svg" || builder.document.root->foreign)
        return fail("content.art_malformed", "The file is XML, but no SVG drawing.", "Choose an SVG or a DXF file.");
    return std::move(builder.document);
}

} // namespace touchmark::content::svg
