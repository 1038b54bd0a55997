// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/simulate.h"

#include <memory>

namespace touchmark::print {

/// What a mark adds to the layers of the plain part, by this model:
///
/// - An island is a piece of material that the plain part does not have by itself in that layer: what a cut leaves
///   standing within it, what is raised on a top, the bodies of an inlay. A mark on a wall or slope hangs on the wall
///   and makes none.
/// - Each closed outline that the plain part does not have is one travel more. The way to it crosses open space, and
///   the nozzle draws its material back, where it leads onto an island; the way along a void or to the rim of a cut
///   lies over material.
/// - Travels lead from one outline to the nearest that is left, middle to middle; the way to the first and from the
///   last is the plain part's own.
/// - A raised mark is drawn full: its path is its area over the line's width. A cut's path is its outline; what it
///   leaves out is made good by the skin that lies under it.
/// - Time is path over `speed`, travel over `travel_speed`, and the retractions. Corners, other lines' speeds and the
///   change of tools of an inlay are not in it.
/// - Unsupported is what a line's share `supported` does not hold on the layer below: on a wall the length of the ledge
///   in each layer, over a void or a cut in the plate's face the lines that bridge it.
struct Extra {
    std::size_t islands = 0, outlines = 0, travels = 0, retractions = 0;
    std::size_t first_layer_islands = 0; ///< on the plate
    std::size_t raised_islands = 0;      ///< that stand on the face, each once
    double outline_mm = 0;               ///< of the material's edge, against the plain part's
    double path_mm = 0;                  ///< that is laid
    double travel_mm = 0;
    double unsupported_mm = 0;
    double seconds = 0;
    double waited_s = 0;                         ///< of these, spent on nothing but the least layer time
    std::optional<double> smallest_island_mm2{}; ///< absent without islands

    Extra& operator+=(const Extra& other);
};

/// One layer's material about a mark, as polygons. On top and bottom as seen from above the mark, in the mark's mm. On
/// a wall or slope as a section square to the face: x as in the frame of Layers, y in mm out of the face.
struct Regions {
    geometry::Outline planned, laid;
    geometry::Outline left_out; ///< planned and too narrow for a line, or too small to hold on the plate
    geometry::Outline fused;    ///< planned open and too narrow to stay so
};

struct Layer {
    /// On top and bottom heights over the mark's lowest layer, straight up. On a wall or slope where the layer lies on
    /// the face: y in the frame of Layers.
    double from_mm = 0, to_mm = 0;
    bool on_plate = false;                  ///< the first layer of the part
    std::shared_ptr<const Regions> regions; ///< null with Want::counts; layers that are alike share one
    Extra extra;
    std::size_t lost_islands = 0; ///< of those on the plate, too small to hold
    /// How long the nozzle is about the islands of this layer; less than the profile's `least_layer_time` where nothing
    /// else is printed in between: they do not cool. 0 without islands.
    double islands_s = 0;
};

/// A mark's layers, from the plate up.
struct Layers {
    bool across = false; ///< walls and slopes: each layer is a section square to the face
    std::vector<Layer> layers;
    /// The mark's mm → the frame, in which layers run level; only a rotation. As the mark's own on top and bottom.
    geometry::Affine from_mark;
    Box2 box; ///< of the regions
    Extra extra;
    double depth = 0; ///< whole layers on top and bottom
};

/// What else of the part lies in the layers of a raised mark.
enum class Beside { part, nothing };

enum class Want { regions, counts };

struct LayersOptions {
    /// Nothing: the mark stands on the part's highest face. Its layers are then all extra and take no less than the
    /// profile's `least_layer_time`.
    Beside beside = Beside::part;
    Mm cover{0.8};             ///< over a hidden mark
    Want want = Want::regions; ///< counts alone take half the time on top and bottom
};

/// The regions in each layer that a mark touches, and what it costs there. Errors: those of simulate().
[[nodiscard]] Result<Layers> layers_of(const geometry::Outline& outline, const Standing& standing,
                                       const process::Process& process, const LayersOptions& options,
                                       const Progress& progress);

} // namespace touchmark::print
