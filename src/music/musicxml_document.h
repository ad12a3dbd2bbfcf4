// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>

#include <pugixml.hpp>

#include "base/error.h"
#include "base/finding.h"

namespace combwright::music::musicxml {

// The parsed text of a score and the way back from an element to its line and column. Document
// type declarations are skipped and no entity but the five of XML is ever expanded.
class Document {
 public:
  // Throws Error with line and column if the text is not well-formed, or with the file's name if it
  // has more tags than any score.
  Document(std::string_view bytes, std::string name);

  pugi::xml_node root() const { return xml_.document_element(); }
  const std::string& name() const { return name_; }

  // Where the element begins.
  Place place(pugi::xml_node element) const;

  // An Error at the element.
  Error error(pugi::xml_node element, const std::string& message) const;

 private:
  Place place_at(std::size_t offset) const;

  std::string name_;
  std::string text_;
  pugi::xml_document xml_;
};

// Things mended or left out while reading, each kind told once with its count and first place.
class Remarks {
 public:
  explicit Remarks(const Document& document) : document_(&document) {}

  // `what` is the finding's text and names the kind.
  void add(Level level, const std::string& what, const std::string& remedy, pugi::xml_node where);

  Findings findings() const;

 private:
  struct Remark {
    Finding first;
    std::size_t count = 0;
  };
  const Document* document_;
  std::map<std::string, Remark> remarks_;
};

}  // namespace combwright::music::musicxml
