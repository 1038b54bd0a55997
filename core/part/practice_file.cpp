// SPDX-License-Identifier: MIT
#include "core/part/step_reading.h"
#include "core/part/wire.h"

#include <BRepBuilderAPI_NurbsConvert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <BRepPrimAPI_MakeTorus.hxx>
#include <BRep_Builder.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <TopoDS_Compound.hxx>

#include <fstream>
#include <iterator>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

namespace touchmark::part {

namespace {

void write_practice(const std::string& path) {
    BRep_Builder builder;
    TopoDS_Compound shapes;
    builder.MakeCompound(shapes);
    builder.Add(shapes, BRepPrimAPI_MakeBox(10, 20, 30).Shape());
    builder.Add(shapes, BRepPrimAPI_MakeCylinder(5, 10).Shape());
    builder.Add(shapes, BRepPrimAPI_MakeCone(5, 2, 10).Shape());
    builder.Add(shapes, BRepPrimAPI_MakeSphere(5).Shape());
    builder.Add(shapes, BRepPrimAPI_MakeTorus(10, 3).Shape());
    builder.Add(shapes, BRepBuilderAPI_NurbsConvert(BRepPrimAPI_MakeCylinder(5, 10).Shape()).Shape());
    STEPControl_Writer writer;
    writer.Transfer(shapes, STEPControl_AsIs);
    writer.Write(path.c_str());
}

} // namespace

std::string practice_file() {
    const Descriptor memory(::memfd_create("practice", 0));
    const std::string path = "/proc/self/fd/" + std::to_string(memory.get());
    // In a process of its own: where STEPControl_Writer has been, STEPCAFControl_Reader reads some files to its death.
    const pid_t writer = ::fork();
    if (writer == 0) {
        try {
            write_practice(path);
        } catch (const Standard_Failure&) {
        }
        ::_exit(0);
    }
    if (writer > 0) ::waitpid(writer, nullptr, 0);
    std::ifstream written(path);
    return {std::istreambuf_iterator<char>(written), {}};
}

} // namespace touchmark::part
