// SPDX-License-Identifier: MIT
#pragma once

// What a Part holds and how it comes about: a model is laid out (which bodies and faces there are), measured (what they
// are like; costly, done in the worker for a file), and assembled (every placed body and face described).

#include "core/part/shape.h"

#include <map>
#include <mutex>

namespace touchmark::part {

/// A solid, free shell or free face of a product, in the product's coordinates.
struct ProductBody {
    TopoDS_Shape shape;
    bool solid = true;
    std::vector<TopoDS_Face> faces;
};

struct Layout {
    std::vector<std::vector<ProductBody>> products; ///< one entry a product of the model
    std::vector<Occurrence> occurrences;            ///< in the order of Part::bodies()
    std::vector<int> product_body;                  ///< of each occurrence: index into products[occurrence.product]
};

/// A face in its product's coordinates.
struct FaceMeasure {
    FaceKind kind = FaceKind::plane;
    double area = 0, radius = 0;
    double volume = 0; ///< its share of the volume, by the divergence theorem
    Vec3 centroid;
    Frame frame;
    Box3 box;
};

struct BodyMeasure {
    std::vector<FaceMeasure> faces;
    double volume = 0;
    bool valid = true;
};

/// Parallel to Layout::products.
using Measures = std::vector<std::vector<BodyMeasure>>;

/// Meshes that a part has asked for, kept as long as it lives.
struct MeshStore {
    std::mutex mutex;
    std::map<std::pair<double, double>, std::vector<std::shared_ptr<const FaceMesh>>> by_deflection;
    std::vector<std::shared_ptr<const void>>
        kept; ///< what the meshes were made of, for other parts that share the faces
};

/// The worker's verdict on the solids, on its way.
struct PendingCheck;

struct Part::Impl {
    Model model;
    Layout layout;
    Measures measures;
    std::vector<TopoDS_Face> face_shapes;
    std::vector<Face> faces;
    std::vector<Body> bodies;
    std::vector<Note> notes;
    Box3 box;
    double volume = 0;
    Digest digest;
    mutable MeshStore meshes;
    std::shared_ptr<PendingCheck> pending; ///< null when the check is done
};

/// How many products the instances place in all, counted without placing them; infinite for a cycle.
[[nodiscard]] double count_bodies(const Model& model);
[[nodiscard]] Layout lay_out(const Model& model);
/// Throws what OpenCASCADE throws only when memory is short; a face that cannot be measured has area 0.
[[nodiscard]] Measures measure(const Layout& layout, const Progress& progress);
/// Whether each body of each product passes BRepCheck; as long as reading itself for some parts.
[[nodiscard]] std::vector<std::vector<char>> check(const Layout& layout);
/// For a layout that shares faces with a part: only what that part does not hold is measured; the volume of a changed
/// body follows from the changed faces alone. Whether it is valid is taken over.
[[nodiscard]] Measures remeasure(const Layout& layout, const Part& origin, const Progress& progress);
[[nodiscard]] FaceMeasure measure_face(const TopoDS_Face& face, const Vec3& about);
/// The same for any face, without a look at whether it is a simple one.
[[nodiscard]] FaceMeasure measure_generally(const TopoDS_Face& face, const Vec3& about);
/// Errors: "part.empty", "part.no_solid".
[[nodiscard]] Result<PartPtr> assemble(Model model, Layout layout, const Measures& measures, Digest digest,
                                       std::shared_ptr<PendingCheck> pending = nullptr);

/// Of the placed face: index, kind, area, centroid, frame, radius and box must be there.
[[nodiscard]] Fingerprint fingerprint_of(const Face& face);

} // namespace touchmark::part
