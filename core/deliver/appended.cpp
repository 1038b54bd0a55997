// SPDX-License-Identifier: MIT
#include "core/deliver/appended.h"

#include "core/deliver/step_text.h"
#include "core/deliver/topology_entities.h"

#include <TopoDS.hxx>

#include <algorithm>
#include <ctime>
#include <map>

namespace touchmark::deliver {
namespace {

/// As OpenCASCADE's writer puts names down.
std::string in_quotes(std::string_view utf8) {
    std::string doubled;
    for (const char c : utf8) {
        if (c == '\n' || c == '\t') {
            doubled += c == '\n' ? "\\N\\" : "\\T\\";
            continue;
        }
        if (c == '\'' || c == '\\') doubled += c;
        doubled += c;
    }
    return with_encoded_strings('\'' + doubled + '\'');
}

std::string joined(const std::vector<int>& ids) {
    return list_of(0, static_cast<int>(ids.size()) - 1, [&](int i) { return to(ids[static_cast<std::size_t>(i)]); });
}

class Composition {
public:
    Composition(const Unmarked& unmarked, const Changes& changes)
        : unmarked_(unmarked), file_(unmarked.file), changes_(changes),
          entities_(unmarked.file.highest_id(), unmarked.unit_mm), topology_(unmarked, entities_) {}

    Result<Appended> run(const FileHead& head) {
        for (const Changes::Shell& shell : changes_.shells)
            change_shell(shell);
        for (const Changes::Voids& voids : changes_.voids)
            add_voids(voids);
        for (const Changes::Body& body : changes_.bodies)
            add_body(body);
        write_lists();
        if (!topology_.refused().empty()) return not_appendable(topology_.refused());
        for (const int face : changes_.gone)
            release(face);
        if (!refused_.empty()) return not_appendable(refused_);
        return spliced(head);
    }

private:
    void change_shell(const Changes::Shell& shell) {
        std::vector<int> ids;
        for (const TopoDS_Face& face : shell.faces) {
            if (const int* heir = changes_.heirs.Seek(face)) {
                const Record old = file_.record(*heir);
                rewrite(*heir, "ADVANCED_FACE(" + std::string(old.argument(0)) + ',' +
                                   topology_.face(face, references_in(old.argument(1))) + ')');
                ids.push_back(*heir);
            } else if (const int known = unmarked_.id_of(face)) {
                ids.push_back(known);
            } else {
                ids.push_back(new_face(face, styles_of_shell(shell.id)));
            }
        }
        rewrite(shell.id, "CLOSED_SHELL(" + std::string(file_.record(shell.id).argument(0)) + ',' + joined(ids) + ')');
    }

    /// What a face's own style overrides, and where it goes.
    struct StylePlace {
        int representation = 0, above = 0;
    };
    [[nodiscard]] StylePlace styles_of_solid(int solid) const {
        const auto representation = unmarked_.representation_of_solid.find(solid);
        const auto above = unmarked_.style_of_item.find(solid);
        return {representation == unmarked_.representation_of_solid.end() ? 0 : representation->second,
                above == unmarked_.style_of_item.end() ? 0 : above->second};
    }
    [[nodiscard]] StylePlace styles_of_shell(int shell) const {
        const auto solid = unmarked_.solid_of_shell.find(shell);
        return solid == unmarked_.solid_of_shell.end() ? StylePlace{} : styles_of_solid(solid->second);
    }

    int new_face(const TopoDS_Face& face, StylePlace styles) {
        const Changes::Style* style = changes_.styles.Seek(face);
        const std::string name = style ? in_quotes(style->name) : "''";
        const std::string body = topology_.face(face, {});
        const int id = entities_.add("ADVANCED_FACE(" + name + ',' + body + ')');
        if (style && style->surface) styled_item(id, *style->surface, styles);
        if (style && style->curve) refused_ = "a face's edges have a colour";
        return id;
    }

    int new_shell(const std::vector<TopoDS_Face>& faces, StylePlace styles, bool reversed) {
        std::vector<int> ids;
        for (const TopoDS_Face& face : faces)
            ids.push_back(new_face(reversed ? TopoDS::Face(face.Reversed()) : face, styles));
        return entities_.add("CLOSED_SHELL(''," + joined(ids) + ')');
    }

    /// A shell around a void is written as one around a body of its shape, and used turned over.
    void add_voids(const Changes::Voids& voids) {
        const Record old = file_.record(voids.solid);
        std::vector<int> ids = references_in(old.argument(2));
        for (const auto& shell : voids.shells)
            ids.push_back(entities_.add("ORIENTED_CLOSED_SHELL('',*," +
                                        to(new_shell(shell, styles_of_solid(voids.solid), true)) + ",.F.)"));
        rewrite(voids.solid, "BREP_WITH_VOIDS(" + std::string(old.argument(0)) + ',' + std::string(old.argument(1)) +
                                 ',' + joined(ids) + ')');
    }

    void add_body(const Changes::Body& body) {
        const StylePlace styles{body.representation, 0};
        const int outer = new_shell(body.shells.front(), styles, false);
        std::vector<int> voids;
        for (std::size_t i = 1; i < body.shells.size(); ++i)
            voids.push_back(
                entities_.add("ORIENTED_CLOSED_SHELL('',*," + to(new_shell(body.shells[i], styles, true)) + ",.F.)"));
        const std::string head = '(' + in_quotes(body.name) + ',' + to(outer);
        const int id = voids.empty() ? entities_.add("MANIFOLD_SOLID_BREP" + head + ')')
                                     : entities_.add("BREP_WITH_VOIDS" + head + ',' + joined(voids) + ')');
        items_[body.representation].push_back(id);
        if (body.colour) styled_item(id, *body.colour, styles);
    }

    void styled_item(int item, const part::Colour& colour, StylePlace place) {
        if (place.representation == 0) {
            refused_ = "the text lacks the representation of a solid";
            return;
        }
        const auto shared = [&](const std::string& body) { return to(entities_.shared(body)); };
        const std::string rgb =
            shared("COLOUR_RGB(''," + real(static_cast<double>(colour.red)) + ',' +
                   real(static_cast<double>(colour.green)) + ',' + real(static_cast<double>(colour.blue)) + ')');
        const std::string fill =
            shared("FILL_AREA_STYLE('',(" + shared("FILL_AREA_STYLE_COLOUR(''," + rgb + ')') + "))");
        const std::string side =
            shared("SURFACE_SIDE_STYLE('',(" + shared("SURFACE_STYLE_FILL_AREA(" + fill + ')') + "))");
        const std::string style =
            shared("PRESENTATION_STYLE_ASSIGNMENT((" + shared("SURFACE_STYLE_USAGE(.BOTH.," + side + ')') + "))");
        const int id = place.above ? entities_.add("OVER_RIDING_STYLED_ITEM('overriding color',(" + style + ")," +
                                                   to(item) + ',' + to(place.above) + ')')
                                   : entities_.add("STYLED_ITEM('color',(" + style + ")," + to(item) + ')');
        styles_[reference(file_.record(place.representation).argument(2))].push_back(id);
    }

    void write_lists() {
        for (const auto& [representation, added] : items_) {
            const Record old = file_.record(representation);
            std::vector<int> items = references_in(old.argument(1));
            items.insert(items.end(), added.begin(), added.end());
            rewrite(representation, std::string(old.type) + '(' + std::string(old.argument(0)) + ',' + joined(items) +
                                        ',' + std::string(old.argument(2)) + ')');
        }
        constexpr const char* type = "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION(";
        for (const auto& [context, added] : styles_) {
            const auto known = unmarked_.styles_in_context.find(context);
            if (known == unmarked_.styles_in_context.end()) {
                entities_.add(type + ("''," + joined(added)) + ',' + to(context) + ')');
                continue;
            }
            const Record old = file_.record(known->second);
            std::vector<int> items = references_in(old.argument(1));
            items.insert(items.end(), added.begin(), added.end());
            rewrite(known->second, std::string(old.type) + '(' + std::string(old.argument(0)) + ',' + joined(items) +
                                       ',' + std::string(old.argument(2)) + ')');
        }
    }

    void rewrite(int id, std::string body) { rewritten_[id] = std::move(body); }

    /// What nothing refers to any more goes, with what only it referred to.
    void release(int face) {
        if (file_.find(face)) orphans_.push_back(face);
    }

    std::vector<int> dropped() {
        std::vector<int> uses(static_cast<std::size_t>(file_.highest_id()) + 1, 0);
        for (const Exchange::Instance& instance : file_.instances())
            for (const int to : file_.references(instance))
                ++uses[static_cast<std::size_t>(to)];
        std::vector<int> out, unused;
        const auto take_back = [&](int from) {
            for (const int to : file_.references(*file_.find(from)))
                if (--uses[static_cast<std::size_t>(to)] == 0) unused.push_back(to);
        };
        for (const auto& [id, body] : rewritten_)
            take_back(id);
        std::map<int, bool> still;
        for (const auto& [id, body] : rewritten_)
            for (std::size_t at = body.find('#'); at != std::string::npos; at = body.find('#', at + 1))
                still[std::atoi(body.c_str() + at + 1)] = true;
        for (const int id : orphans_)
            if (uses[static_cast<std::size_t>(id)] > 0 && !still.contains(id))
                refused_ = "what is gone is still referred to";
        while (!unused.empty()) {
            const int id = unused.back();
            unused.pop_back();
            if (still.contains(id) || topology_.reused().contains(id)) continue;
            out.push_back(id);
            take_back(id);
        }
        std::ranges::sort(out);
        return out;
    }

    [[nodiscard]] std::string head_text(const FileHead& head) const {
        const std::string_view old = std::string_view(file_.text()).substr(0, file_.data_begin());
        const std::size_t begin = old.find("FILE_NAME("), end = old.find("FILE_SCHEMA(");
        const std::size_t close = old.rfind(';', end);
        if (begin == std::string_view::npos || end == std::string_view::npos || close <= begin) return {};
        const Record name = record_of_body(old.substr(begin, close - begin));
        const std::time_t now = std::time(nullptr);
        std::tm local{};
        ::localtime_r(&now, &local);
        char stamp[40];
        std::strftime(stamp, sizeof stamp, "%Y-%m-%dT%H:%M:%S", &local);
        return std::string(old.substr(0, begin)) + "FILE_NAME(" + in_quotes(head.name) + ",'" + stamp + "',(" +
               in_quotes(head.author) + "),(" + in_quotes(head.organisation) + "),\n  " +
               std::string(name.argument(4)) + ',' + std::string(name.argument(5)) + ',' +
               std::string(name.argument(6)) + std::string(old.substr(close - 1));
    }

    Result<Appended> spliced(const FileHead& head) {
        Appended out;
        out.dropped = dropped();
        if (!refused_.empty()) return not_appendable(refused_);
        out.text = head_text(head);
        if (out.text.empty()) return not_appendable("its head is not as expected");
        std::vector<const Exchange::Instance*> touched;
        for (const auto& [id, body] : rewritten_)
            touched.push_back(file_.find(id)), out.rewritten.push_back(id);
        for (const int id : out.dropped)
            touched.push_back(file_.find(id));
        std::ranges::sort(touched, {}, &Exchange::Instance::begin);
        const std::string& old = file_.text();
        out.text.reserve(old.size() + entities_.text().size() + 65536);
        std::size_t done = file_.data_begin();
        for (const Exchange::Instance* instance : touched) {
            out.text.append(old, done, instance->begin - done);
            done = instance->end;
            const auto body = rewritten_.find(instance->id);
            if (body != rewritten_.end())
                out.text += to(instance->id) + '=' + body->second + ';';
            else if (done < old.size() && old[done] == '\n')
                ++done;
        }
        out.text.append(old, done, file_.data_end() - done);
        out.text += entities_.text();
        out.text.append(old, file_.data_end());
        out.added = entities_.count();
        return out;
    }

    const Unmarked& unmarked_;
    const Exchange& file_;
    const Changes& changes_;
    Entities entities_;
    TopologyEntities topology_;
    std::map<int, std::string> rewritten_;
    std::map<int, std::vector<int>> items_, styles_; ///< added to representations; to the styles of a context
    std::vector<int> orphans_;
    std::string refused_;
};

} // namespace

Result<Appended> appended(const Unmarked& unmarked, const Changes& changes, const FileHead& head) {
    return Composition(unmarked, changes).run(head);
}

} // namespace touchmark::deliver
