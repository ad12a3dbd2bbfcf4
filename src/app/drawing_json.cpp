// SPDX-License-Identifier: Apache-2.0
#include "app/drawing_json.h"

#include <string>
#include <utility>
#include <variant>

namespace combwright::app {
namespace {

Json points_json(const std::vector<draw::Point>& points) {
  Json list = Json::array();
  for (const draw::Point& point : points) {
    list.push_back(draw::to_mm(point.x));
    list.push_back(draw::to_mm(point.y));
  }
  return list;
}

class Shapes {
 public:
  void add(const std::string& layer, const draw::Polyline& line) {
    polylines_.push_back(
        {{"layer", layer}, {"points", points_json(line.points)}, {"closed", line.closed}});
  }
  void add(const std::string& layer, const draw::Circle& circle) {
    circles_.push_back({{"layer", layer},
                        {"x", draw::to_mm(circle.centre.x)},
                        {"y", draw::to_mm(circle.centre.y)},
                        {"radius", draw::to_mm(circle.radius)}});
  }
  void add(const std::string& layer, const draw::Line& line) {
    lines_.push_back({{"layer", layer}, {"points", points_json({line.from, line.to})}});
  }
  void add(const std::string&, const draw::Dot&) {}
  void add(const std::string&, const draw::Text&) {}

  Json json() && {
    return {{"polylines", std::move(polylines_)},
            {"circles", std::move(circles_)},
            {"lines", std::move(lines_)}};
  }

 private:
  Json polylines_ = Json::array();
  Json circles_ = Json::array();
  Json lines_ = Json::array();
};

}  // namespace

Json drawing_json(const draw::Drawing& drawing) {
  Shapes shapes;
  for (const draw::Item& item : drawing.items) {
    const std::string layer(draw::to_text(item.layer));
    std::visit([&](const auto& shape) { shapes.add(layer, shape); }, item.shape);
  }
  return std::move(shapes).json();
}

}  // namespace combwright::app
