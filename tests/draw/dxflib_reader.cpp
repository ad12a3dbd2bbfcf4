// SPDX-License-Identifier: Apache-2.0
// Reads a DXF file by dxflib and prints what it holds, one entity a line, for a test to compare.
#include <cstdio>

#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

namespace {

class Printer : public DL_CreationAdapter {
 public:
  void addLayer(const DL_LayerData& data) override { std::printf("LAYER %s\n", data.name.c_str()); }
  void addPoint(const DL_PointData& data) override { print("POINT", data.x, data.y); }
  void addCircle(const DL_CircleData& data) override {
    print("CIRCLE", data.cx, data.cy);
    std::printf("RADIUS %.6f\n", data.radius);
  }
  void addPolyline(const DL_PolylineData& data) override {
    std::printf("POLYLINE %s %d\n", getAttributes().getLayer().c_str(), data.flags);
  }
  void addVertex(const DL_VertexData& data) override { print("VERTEX", data.x, data.y); }
  void addText(const DL_TextData& data) override {
    std::printf("TEXT %.4f %s\n", data.height, data.text.c_str());
  }

 private:
  void print(const char* kind, double x, double y) {
    std::printf("%s %s %.6f %.6f\n", kind, getAttributes().getLayer().c_str(), x, y);
  }
};

}  // namespace

int main(int argc, char** argv) {
  Printer printer;
  DL_Dxf dxf;
  return argc == 2 && dxf.in(argv[1], &printer) ? 0 : 1;
}
