// SPDX-License-Identifier: MIT
#include "core/part/model_stream.h"

#include "core/part/byte_stream.h"

#include <BinTools_ShapeSet.hxx>

#include <istream>
#include <ostream>

namespace touchmark::part {
namespace {

constexpr std::uint32_t magic = 0x544d5031;

/// A shape among those of the set: its number there, and how it is turned and placed.
struct ShapeKey {
    int index = 0, location = 0;
    TopAbs_Orientation orientation = TopAbs_FORWARD;
};

class Writer {
public:
    explicit Writer(std::vector<char>& bytes) : out_(bytes) {}

    /// Every shape that key() will be asked about, sub-shapes included, must have been added.
    void add(const TopoDS_Shape& shape) {
        if (!shape.IsNull()) set_.Add(shape);
    }
    void add_location(const TopLoc_Location& location) { set_.ChangeLocations().Add(location); }
    ShapeKey key(const TopoDS_Shape& shape) {
        if (shape.IsNull()) return {};
        return {set_.Index(shape.Located(TopLoc_Location())), set_.Locations().Index(shape.Location()),
                shape.Orientation()};
    }
    void write(const std::optional<Colour>& colour) {
        out_.put(colour.has_value());
        out_.put(colour.value_or(Colour{}));
    }
    void write(const Instance& instance) {
        out_.put(instance.product);
        out_.put(set_.Locations().Index(instance.location));
        out_.put(instance.name);
        write(instance.colour);
    }
    void write(const Styled& styled) {
        out_.put(key(styled.shape));
        out_.put(styled.name);
        write(styled.surface);
        write(styled.curve);
        out_.put(styled.mark);
    }
    void write(const Product& product) {
        out_.put(product.name);
        out_.put(key(product.shape));
        out_.put_all(product.children, [&](const Instance& child) { write(child); });
        write(product.colour);
        out_.put_all(product.styled, [&](const Styled& styled) { write(styled); });
    }
    void write(const Note& note) {
        out_.put(note.code);
        out_.put(note.message);
        out_.put(note.body);
    }
    void write(const Model& model) {
        out_.put_all(model.products, [&](const Product& product) { write(product); });
        out_.put_all(model.roots, [&](const Instance& root) { write(root); });
        out_.put(model.name);
        out_.put(model.unit);
        out_.put(model.schema);
        out_.put_all(model.notes, [&](const Note& note) { write(note); });
    }
    void write(const Measures& measures) {
        out_.put_all(measures, [&](const std::vector<BodyMeasure>& product) {
            out_.put_all(product, [&](const BodyMeasure& body) {
                out_.put_all(body.faces, [&](const FaceMeasure& face) { out_.put(face); });
                out_.put(body.volume);
                out_.put(body.valid);
            });
        });
    }
    BinTools_ShapeSet& set() { return set_; }

private:
    ByteWriter out_;
    BinTools_ShapeSet set_;
};

class Reader {
public:
    Reader(std::span<const char> bytes, BinTools_ShapeSet& set) : in_(bytes), set_(set) {}

    TopoDS_Shape shape() {
        const auto key = in_.get<ShapeKey>();
        if (key.index < 1 || key.index > set_.NbShapes()) return {};
        TopoDS_Shape found = set_.Shape(key.index);
        found.Location(location(key.location), Standard_False);
        found.Orientation(key.orientation);
        return found;
    }
    TopLoc_Location location(int index) {
        return index < 1 || index > set_.Locations().NbLocations() ? TopLoc_Location()
                                                                   : set_.Locations().Location(index);
    }
    std::optional<Colour> colour() {
        const bool there = in_.get<bool>();
        const auto value = in_.get<Colour>();
        return there ? std::optional(value) : std::nullopt;
    }
    Instance instance() {
        Instance out;
        out.product = in_.get<int>();
        out.location = location(in_.get<int>());
        out.name = in_.text();
        out.colour = colour();
        return out;
    }
    Styled styled() {
        Styled out;
        out.shape = shape();
        out.name = in_.text();
        out.surface = colour();
        out.curve = colour();
        out.mark = in_.text();
        return out;
    }
    Product product() {
        Product out;
        out.name = in_.text();
        out.shape = shape();
        out.children = in_.all([&] { return instance(); });
        out.colour = colour();
        out.styled = in_.all([&] { return styled(); });
        return out;
    }
    Model model() {
        Model out;
        out.products = in_.all([&] { return product(); });
        out.roots = in_.all([&] { return instance(); });
        out.name = in_.text();
        out.unit = in_.text();
        out.schema = in_.text();
        out.notes = in_.all([&] {
            Note note;
            note.code = in_.text();
            note.message = in_.text();
            note.body = in_.get<int>();
            return note;
        });
        return out;
    }
    Measures measures() {
        return in_.all([&] {
            return in_.all([&] {
                BodyMeasure body;
                body.faces = in_.all([&] { return in_.get<FaceMeasure>(); });
                body.volume = in_.get<double>();
                body.valid = in_.get<bool>();
                return body;
            });
        });
    }

private:
    ByteReader in_;
    BinTools_ShapeSet& set_;
};

} // namespace

std::vector<char> to_bytes(const Model& model) {
    std::vector<char> table, bytes;
    Writer writer(table);
    for (const Product& product : model.products) {
        writer.add(product.shape);
        for (const Styled& styled : product.styled)
            writer.add(styled.shape);
        for (const Instance& child : product.children)
            writer.add_location(child.location);
    }
    for (const Instance& root : model.roots)
        writer.add_location(root.location);
    writer.write(model);

    ByteWriter out(bytes);
    out.put(magic);
    out.put(table.size());
    bytes.insert(bytes.end(), table.begin(), table.end());
    MemoryBuffer buffer(bytes);
    std::ostream stream(&buffer);
    writer.set().Write(stream);
    return bytes;
}

std::vector<char> to_bytes(const Measures& measures) {
    std::vector<char> bytes;
    Writer(bytes).write(measures);
    return bytes;
}

Model model_from(std::span<const char> bytes) {
    ByteReader in(bytes);
    if (in.get<std::uint32_t>() != magic) throw std::out_of_range("not what a worker sends");
    const auto table = in.take(in.get<std::size_t>());
    MemoryView view(in.rest());
    std::istream stream(&view);
    BinTools_ShapeSet set;
    set.Read(stream);
    return Reader(table, set).model();
}

Measures measures_from(std::span<const char> bytes) {
    BinTools_ShapeSet none;
    return Reader(bytes, none).measures();
}

} // namespace touchmark::part
