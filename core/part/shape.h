// SPDX-License-Identifier: MIT
#pragma once

// OpenCASCADE's side of a Part: for core/part, surface, imprint and deliver only; never included by app.

#include "core/part/part.h"

#include <TopLoc_Location.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>

#include <string>
#include <vector>

namespace touchmark::part {

/// A name or colour that the file gives to a sub-shape of a product.
struct Styled {
    TopoDS_Shape shape; ///< a face, shell, solid or edge of the product's shape
    std::string name;
    std::optional<Colour> surface, curve;
    std::string mark; ///< for faces made by a mark
};

struct Instance {
    int product = 0;
    TopLoc_Location location; ///< relative to the parent
    std::string name;
    std::optional<Colour> colour;
};

/// A product of the file: either a shape of its own or an assembly of instances, as in STEP's product structure.
struct Product {
    std::string name;
    TopoDS_Shape shape; ///< null for an assembly
    std::vector<Instance> children;
    std::optional<Colour> colour;
    std::vector<Styled> styled;
};

/// The whole file. Written back in this structure.
struct Model {
    std::vector<Product> products;
    std::vector<Instance> roots; ///< top-level products, usually one
    std::string name, unit = "mm", schema;
    std::vector<Note> notes;
};

/// Where a Body of the part comes from.
struct Occurrence {
    std::vector<int> path; ///< index into roots, then into children at each level
    int product = 0;
    TopLoc_Location location; ///< product → part coordinates
    TopoDS_Shape shape;       ///< the solid or shell itself, in the product's coordinates
};

/// Computes faces, bodies and fingerprints. Errors: "part.empty", "part.no_solid".
[[nodiscard]] Result<PartPtr> make_part(Model model, Digest digest, const Progress& progress);
/// The same for a model that was made by changing `origin`'s: what the two share is not measured again.
[[nodiscard]] Result<PartPtr> make_part(Model model, Digest digest, const Part& origin, const Progress& progress);

[[nodiscard]] const Model& model(const Part& part);
[[nodiscard]] const Occurrence& occurrence(const Part& part, int body);
/// As it lies in its product: without the occurrence's location, with the orientation it has in its shell.
[[nodiscard]] const TopoDS_Face& face_shape(const Part& part, int face);

} // namespace touchmark::part
