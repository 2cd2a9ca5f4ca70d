// Validates PDFs against PDF/UA-1 and PDF/A-2a with veraPDF, and shows that it can fail: the last file is spoilt in a
// few ways, and each time the rule that speaks of it must be among those that are broken.
// Run by the JavaScript that is in the archive: java -cp ARCHIVE org.mozilla.javascript.tools.shell.Main validate.js FILE...
var vera = Packages.org.verapdf, profiles = vera.pdfa.validation.profiles, flavours = vera.pdfa.flavours;
java.util.logging.Logger.getLogger("").setLevel(java.util.logging.Level.OFF);
vera.gf.foundry.VeraGreenfieldFoundryProvider.initialise();
var foundry = vera.pdfa.Foundries.defaultInstance();
var MOST_FAILURES = 200;

// The archive's own reading of its profiles wants a library that it does not carry, so they are read here.
function all(node, name) {
  var found = node.getElementsByTagName(name), list = [];
  for (var i = 0; i < found.getLength(); i++) list.push(found.item(i));
  return list;
}
function text(node, name) {
  return all(node, name)[0].getTextContent();
}
function profile(file, flavour) {
  var make = profiles.Profiles;
  var stream = foundry.getClass().getClassLoader().getResourceAsStream("org/verapdf/pdfa/validation/" + file + ".xml");
  var root = Packages.javax.xml.parsers.DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(stream).getDocumentElement();
  var rules = new java.util.HashSet(), variables = new java.util.HashSet();
  all(root, "rule").forEach(function (rule) {
    var id = all(rule, "id")[0], error = all(rule, "error")[0], given = new java.util.ArrayList();
    all(error, "argument").forEach(function (one) {
      given.add(profiles.ErrorArgumentImpl.fromValues(one.getTextContent(), one.getAttribute("name") || null, null));
    });
    rules.add(make.ruleFromValues(
      make.ruleIdFromValues(flavours["PDFAFlavour$Specification"].valueOf(id.getAttribute("specification")),
        id.getAttribute("clause"), parseInt(id.getAttribute("testNumber"), 10)),
      rule.getAttribute("object"), rule.hasAttribute("deferred") ? java.lang.Boolean.valueOf(rule.getAttribute("deferred")) : null,
      rule.getAttribute("tags"), text(rule, "description"), text(rule, "test"),
      make.errorFromValues(text(error, "message"), given), new java.util.ArrayList()));
  });
  all(root, "variable").forEach(function (one) {
    variables.add(make.variableFromValues(one.getAttribute("name"), one.getAttribute("object"), text(one, "defaultValue"), text(one, "value")));
  });
  return make.profileFromValues(flavour, make.profileDetailsFromValues(file, file, "", new java.util.Date(0)), "", rules, variables);
}

var STANDARDS = [["PDF/UA-1", "PDFUA-1", "ua1", 100], ["PDF/A-2a", "PDFA-2A", "2a", 140]].map(function (one) {
  var flavour = flavours.PDFAFlavour.byFlavourId(one[2]);
  var read = profile(one[1], flavour);
  if (read.getRules().size() < one[3]) throw "the profile of " + one[0] + " has only " + read.getRules().size() + " rules";
  return { name: one[0], flavour: flavour, profile: read };
});

// What a file breaks of a standard: "7.3-1: what it says", each once.
function broken(bytes, standard) {
  var parser = foundry.createParser(new java.io.ByteArrayInputStream(bytes), standard.flavour);
  var validator = vera.pdfa.validation.validators.ValidatorFactory.createValidator(standard.profile, MOST_FAILURES, false, true, false);
  var result = validator.validate(parser), failed = result.getTestAssertions().iterator(), list = [];
  while (failed.hasNext()) {
    var one = failed.next(), id = one.getRuleId();
    var said = id.getClause() + "-" + id.getTestNumber() + ": " + one.getMessage();
    if (list.indexOf(said) < 0) list.push(said);
  }
  if (list.length === 0 && !result.isCompliant()) list.push("it does not keep to it, for a reason that was not told");
  parser.close();
  return { tried: result.getTotalAssertions(), list: list };
}

// What is spoilt, with as many letters as before, so that every place in the file stays; and the rule it breaks.
var SPOILT = [
  ["PDF/UA-1", "/Alt<", "/Atl<", "7.3-1", "a drawing without words"],
  ["PDF/UA-1", "/DisplayDocTitle true", "/DisplayDocTitel true", "7.1-10", "the title is not shown"],
  ["PDF/UA-1", "<pdfuaid:part>1<", "<pdfuaid:part>2<", "5-2", "it claims another part"],
  ["PDF/UA-1", "/Lang(en-GB)", "/Lagn(en-GB)", "7.2-", "no language"],
  ["PDF/UA-1", "/Marked true", "/Markde true", "6.2-1", "not said to be tagged"],
  ["PDF/UA-1", "/StructTreeRoot ", "/StructTreeRoof ", "7.1-11", "no tree of tags"],
  ["PDF/UA-1", "/S/H1", "/S/H3", "7.4.2-1", "the first heading is of the third level"],
  ["PDF/A-2a", "/Marked true", "/Markde true", "6.7.2.2-1", "not said to be tagged"],
  ["PDF/A-2a", "<pdfaid:part>2<", "<pdfaid:part>3<", "6.6.4-", "it claims another part"],
  ["PDF/UA-1", "/FontFile", "/FontFilf", "7.21.4.1-1", "a font that is not in the file"],
  ["PDF/A-2a", "/ToUnicode ", "/ToUnicodf ", "6.2.11.7.2-1", "a font whose letters cannot be searched"]
];

function latin(bytes) { return String(new java.lang.String(bytes, "ISO-8859-1")); }

var passed = 0, failed = 0;
function ended(good, said) {
  if (good) passed++; else failed++;
  print((good ? "" : "FAILED ") + said);
}
var last = null;
for (var i = 0; i < arguments.length; i++) {
  var name = arguments[i], bytes = java.nio.file.Files.readAllBytes(java.nio.file.Paths.get(name));
  last = bytes;
  STANDARDS.forEach(function (standard) {
    var found = broken(bytes, standard);
    ended(found.list.length === 0 && found.tried > 1000, new java.io.File(name).getName() + ": " + standard.name + ", "
      + standard.profile.getRules().size() + " rules, " + found.tried + " checks"
      + (found.list.length ? ", broken:\n  " + found.list.slice(0, 20).join("\n  ") : ", nothing broken"));
  });
}
if (last === null) throw "no file was given";
SPOILT.forEach(function (one) {
  var standard = STANDARDS.filter(function (each) { return each.name === one[0]; })[0];
  var before = latin(last), at = before.indexOf(one[1]);
  var said = one[4] + ": " + one[0] + " " + one[3];
  if (at < 0) { ended(false, said + ": there is no \"" + one[1] + "\" to spoil"); return; }
  var after = before.slice(0, at) + one[2] + before.slice(at + one[1].length);
  var found = broken(new java.lang.String(after).getBytes("ISO-8859-1"), standard);
  var seen = found.list.some(function (line) { return line.indexOf(one[3]) === 0; });
  ended(seen, "spoilt, " + said + (seen ? " is broken, as it must be" : " is not among what is broken: " + found.list.join("; ")));
});
print("pdf: " + passed + " passed, " + failed + " failed, 0 skipped");
if (failed) quit(1);
