// SPDX-License-Identifier: MIT
#include "core/part/guard.h"
#include "core/part/part_data.h"
#include "core/part/vectors.h"

#include <TopTools_DataMapOfShapeInteger.hxx>

#include <algorithm>
#include <cassert>

namespace touchmark::part {
namespace {

using StyleIndex = TopTools_DataMapOfShapeInteger;

struct Style {
    std::string name, mark;
    std::optional<Colour> colour;
};

Style style_of(const Product& product, const StyleIndex& index, const TopoDS_Shape& shape) {
    const int* found = index.Seek(shape);
    if (!found) return {};
    const Styled& styled = product.styled[static_cast<std::size_t>(*found)];
    return {styled.name, styled.mark, styled.surface};
}

const Instance& instance_at(const Model& model, const std::vector<int>& path, std::size_t depth) {
    const Instance* instance = &model.roots[static_cast<std::size_t>(path[0])];
    for (std::size_t i = 1; i <= depth; ++i)
        instance =
            &model.products[static_cast<std::size_t>(instance->product)].children[static_cast<std::size_t>(path[i])];
    return *instance;
}

std::string path_text(const Model& model, const std::vector<int>& path) {
    std::string text;
    for (std::size_t depth = 0; depth < path.size(); ++depth) {
        const Instance& instance = instance_at(model, path, depth);
        const std::string& product = model.products[static_cast<std::size_t>(instance.product)].name;
        if (depth) text += '/';
        text += product.empty() ? instance.name : product;
    }
    return text;
}

std::optional<Colour> instance_colour(const Model& model, const std::vector<int>& path) {
    for (std::size_t depth = 0; depth < path.size(); ++depth)
        if (const auto& colour = instance_at(model, path, depth).colour) return colour;
    return std::nullopt;
}

Box3 placed_box(const Box3& box, const gp_Trsf& by) {
    Box3 out;
    if (box.empty()) return out;
    for (int corner = 0; corner < 8; ++corner) {
        const gp_Pnt p(corner & 1 ? box.high.x : box.low.x, corner & 2 ? box.high.y : box.low.y,
                       corner & 4 ? box.high.z : box.low.z);
        out.add(vec(p.Transformed(by)));
    }
    return out;
}

class Assembler {
public:
    Assembler(Part::Impl& part, const Measures& measures) : part_(part), measures_(measures) {
        for (const Product& product : part.model.products) {
            StyleIndex& index = styles_.emplace_back();
            for (std::size_t i = 0; i < product.styled.size(); ++i)
                index.Bind(product.styled[i].shape, static_cast<int>(i));
        }
    }

    void add(std::size_t occurrence_index) {
        const Occurrence& occurrence = part_.layout.occurrences[occurrence_index];
        const auto p = static_cast<std::size_t>(occurrence.product);
        const auto b = static_cast<std::size_t>(part_.layout.product_body[occurrence_index]);
        const Product& product = part_.model.products[p];
        const ProductBody& shape = part_.layout.products[p][b];
        const BodyMeasure& measure = measures_[p][b];
        const Style style = style_of(product, styles_[p], shape.shape);

        Body body;
        const Instance& instance = instance_at(part_.model, occurrence.path, occurrence.path.size() - 1);
        const bool only = part_.layout.products[p].size() == 1;
        body.name = !style.name.empty() && !only ? style.name : product.name.empty() ? instance.name : product.name;
        body.path = path_text(part_.model, occurrence.path);
        body.solid = shape.solid;
        body.valid = measure.valid;
        body.first_face = static_cast<int>(part_.faces.size());
        body.face_count = static_cast<int>(shape.faces.size());
        body.volume_mm3 = shape.solid ? measure.volume : 0;
        part_.volume += body.volume_mm3;
        const int body_index = static_cast<int>(part_.bodies.size());
        part_.bodies.push_back(std::move(body));

        std::optional<Colour> colour = style.colour;
        if (!colour) colour = instance_colour(part_.model, occurrence.path);
        if (!colour) colour = product.colour;
        const gp_Trsf trsf = occurrence.location.Transformation();
        for (std::size_t f = 0; f < shape.faces.size(); ++f)
            add_face(body_index, style_of(product, styles_[p], shape.faces[f]), colour, shape.faces[f],
                     measure.faces[f], trsf);
    }

private:
    void add_face(int body, const Style& style, const std::optional<Colour>& inherited, const TopoDS_Face& shape,
                  const FaceMeasure& measure, const gp_Trsf& trsf) {
        Face face;
        face.index = static_cast<int>(part_.faces.size());
        face.body = body;
        face.kind = measure.kind;
        face.area_mm2 = measure.area;
        face.centroid = vec(point(measure.centroid).Transformed(trsf));
        face.frame = transformed(measure.frame, trsf);
        face.radius_mm = measure.radius;
        face.box = trsf.Form() == gp_Identity ? measure.box : placed_box(measure.box, trsf);
        face.name = style.name;
        face.mark = style.mark;
        face.colour = style.colour ? style.colour : inherited;
        face.fingerprint = fingerprint_of(face);
        part_.box.add(face.box.low);
        part_.box.add(face.box.high);
        part_.faces.push_back(std::move(face));
        part_.face_shapes.push_back(shape);
    }

    Part::Impl& part_;
    const Measures& measures_;
    std::vector<StyleIndex> styles_;
};

void note_bodies(Part::Impl& part) {
    for (const Note& note : part.notes)
        if (note.code == "part.invalid_solid" && note.body >= 0 && note.body < static_cast<int>(part.bodies.size()))
            part.bodies[static_cast<std::size_t>(note.body)].valid = false;
    const auto add = [&](std::string_view code, int body, std::string message) {
        for (const Note& note : part.notes)
            if (note.body == body && note.code == code) return;
        part.notes.push_back({std::string(code), std::move(message), body});
    };
    for (std::size_t i = 0; i < part.bodies.size(); ++i) {
        const Body& body = part.bodies[i];
        const int index = static_cast<int>(i);
        const std::string called = body.name.empty() ? std::to_string(i + 1) : "\"" + body.name + "\"";
        if (body.solid && !body.valid)
            add("part.invalid_solid", index, "The solid " + called + " has faults in its geometry.");
        if (!body.solid)
            add("part.free_shell", index,
                "The surface " + called + " has no thickness; it is kept but cannot be marked.");
    }
    part.model.notes = part.notes;
}

} // namespace

std::string_view key_of(FaceKind kind) {
    switch (kind) {
    case FaceKind::plane:
        return "plane";
    case FaceKind::cylinder:
        return "cylinder";
    case FaceKind::cone:
        return "cone";
    case FaceKind::sphere:
        return "sphere";
    case FaceKind::torus:
        return "torus";
    case FaceKind::freeform:
        return "freeform";
    }
    return "freeform";
}

Part::Part(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Part::~Part() = default;
const std::vector<Face>& Part::faces() const {
    return impl_->faces;
}
const std::vector<Body>& Part::bodies() const {
    return impl_->bodies;
}
const std::vector<Note>& Part::notes() const {
    return impl_->notes;
}
const std::string& Part::name() const {
    return impl_->model.name;
}
const std::string& Part::file_unit() const {
    return impl_->model.unit;
}
Box3 Part::box() const {
    return impl_->box;
}
double Part::volume_mm3() const {
    return impl_->volume;
}
const Digest& Part::digest() const {
    return impl_->digest;
}

const Model& model(const Part& part) {
    return part.impl().model;
}
const Occurrence& occurrence(const Part& part, int body) {
    return part.impl().layout.occurrences.at(static_cast<std::size_t>(body));
}
const TopoDS_Face& face_shape(const Part& part, int face) {
    return part.impl().face_shapes.at(static_cast<std::size_t>(face));
}

Result<PartPtr> assemble(Model model, Layout layout, const Measures& measures, Digest digest,
                         std::shared_ptr<PendingCheck> pending) {
    if (layout.occurrences.empty())
        return fail("part.empty", "The file holds no geometry.",
                    "Export the part again as a solid in STEP AP214 or AP242.");
    auto impl = std::make_unique<Part::Impl>();
    impl->model = std::move(model);
    impl->layout = std::move(layout);
    impl->measures = measures;
    impl->notes = impl->model.notes;
    impl->digest = digest;
    impl->pending = std::move(pending);
    Assembler assembler(*impl, measures);
    for (std::size_t i = 0; i < impl->layout.occurrences.size(); ++i)
        assembler.add(i);
    if (std::none_of(impl->bodies.begin(), impl->bodies.end(), [](const Body& body) { return body.solid; }))
        return fail(
            "part.no_solid", "The file holds surfaces but no solid.",
            "Close the surfaces into a solid in the design program and export again; text needs material to stand on.");
    note_bodies(*impl);
    return std::make_shared<const Part>(std::move(impl));
}

Result<PartPtr> make_part(Model model, Digest digest, const Progress& progress) {
    return guarded("part.bad_geometry", "Reading the shape", [&]() -> Result<PartPtr> {
        Layout layout = lay_out(model);
        const Measures measures = measure(layout, progress);
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        return assemble(std::move(model), std::move(layout), measures, digest);
    });
}

Result<PartPtr> make_part(Model model, Digest digest, const Part& origin, const Progress& progress) {
    return guarded("part.bad_geometry", "Reading the shape", [&]() -> Result<PartPtr> {
        Layout layout = lay_out(model);
        const Measures measures = remeasure(layout, origin, progress);
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        return assemble(std::move(model), std::move(layout), measures, digest);
    });
}

} // namespace touchmark::part
