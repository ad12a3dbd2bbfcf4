// SPDX-License-Identifier: Apache-2.0
// listen one|pair FILE...: what the ear hears in the first channel of each, one line of JSON a
// file, for tests against other programs.
#include <exception>
#include <iostream>
#include <string>

#include <nlohmann/json.hpp>

#include "base/file.h"
#include "ear/hear.h"
#include "ear/recording_reader.h"

namespace {

using namespace combwright;
using Json = nlohmann::ordered_json;

Json to_json(const ear::HeardPluck& pluck) {
  Json result{{"onset_s", pluck.onset_s},
              {"sure", pluck.sure},
              {"own", Json::array()},
              {"partials", Json::array()},
              {"findings", Json::array()}};
  for (const ear::OwnMode& own : pluck.own)
    result["own"].push_back({{"frequency_hz", own.frequency_hz},
                             {"stderr_hz", own.stderr_hz},
                             {"amplitude", own.amplitude},
                             {"decay_s", own.decay_s}});
  for (const ear::Partial& partial : pluck.partials)
    result["partials"].push_back({{"frequency_hz", partial.frequency_hz},
                                  {"decay_s", partial.decay_s},
                                  {"level_db", partial.level_db}});
  for (const Finding& finding : pluck.findings) result["findings"].push_back(finding.what);
  return result;
}

}  // namespace

int main(int count, char** arguments) {
  try {
    const ear::Listening how{.pair = count > 1 && std::string(arguments[1]) == "pair"};
    for (int i = 2; i < count; ++i) {
      const std::string path = arguments[i];
      const ear::Recording recording =
          ear::read_recording(read_file(path, ear::max_recording_bytes), path);
      const ear::Heard heard = ear::hear(recording.channels[0], recording.rate_hz, how);
      Json plucks = Json::array();
      for (const ear::HeardPluck& pluck : heard.plucks) plucks.push_back(to_json(pluck));
      const auto surest = ear::surest(heard.plucks);
      std::cout << Json{{"plucks", plucks}, {"surest", surest ? Json(*surest) : Json()}} << '\n';
    }
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
}
