// SPDX-License-Identifier: MIT
#pragma once

#include "core/part/part_data.h"

#include <TopoDS_TShape.hxx>

#include <unordered_map>

namespace touchmark::part {

/// The triangles of one face as it lies in its own TShape: no location, forward orientation. Shared by every part that
/// holds the face.
struct LocalMesh {
    Handle(TopoDS_TShape) owner; ///< keeps the address, which is the cache's key, from being used again
    std::shared_ptr<const FaceMesh> forward;

    /// The mesh as the face lies in a part; the same object each time the same placing is asked for.
    [[nodiscard]] std::shared_ptr<const FaceMesh> placed(const TopLoc_Location& location, bool reversed) const;

private:
    struct Placing {
        TopLoc_Location location;
        bool reversed;
        std::weak_ptr<const FaceMesh> mesh;
    };
    mutable std::mutex mutex_;
    mutable std::vector<Placing> placings_;
};
using LocalMeshPtr = std::shared_ptr<const LocalMesh>;

/// Finds the meshes that living parts hold, by face and deflection. It keeps none alive itself.
class MeshCache {
public:
    [[nodiscard]] LocalMeshPtr find(const TopoDS_Shape& face, double linear, double angular);
    void add(const LocalMeshPtr& mesh, double linear, double angular);
    [[nodiscard]] static MeshCache& instance();

private:
    struct Key {
        const TopoDS_TShape* face;
        double linear, angular;
        friend bool operator==(const Key&, const Key&) = default;
    };
    struct Hash {
        std::size_t operator()(const Key& key) const noexcept;
    };
    std::mutex mutex_;
    std::unordered_map<Key, std::weak_ptr<const LocalMesh>, Hash> meshes_;
    std::size_t sweep_at_ = 1024;
};

} // namespace touchmark::part
