package desk

import "strings"

// Tokens by which browsers and systems tell of themselves (RFC 9110 10.1.5),
// the more telling first: nearly all claim to be several.
var (
	browserTokens = [][2]string{{"Edg", "Edge"}, {"OPR/", "Opera"}, {"SamsungBrowser/", "Samsung Internet"}, {"Firefox/", "Firefox"},
		{"FxiOS/", "Firefox"}, {"CriOS/", "Chrome"}, {"Chrome/", "Chrome"}, {"Safari/", "Safari"}}
	systemTokens = [][2]string{{"iPhone", "an iPhone"}, {"iPad", "an iPad"}, {"Android", "Android"}, {"Windows", "Windows"},
		{"Macintosh", "a Mac"}, {"CrOS", "a Chromebook"}, {"Linux", "Linux"}}
)

// deviceWords is what a browser calls itself, as one would say it.
func deviceWords(agent string) string {
	browser, system := firstOf(browserTokens, agent), firstOf(systemTokens, agent)
	switch {
	case browser != "" && system != "":
		return browser + " on " + system
	case browser+system != "":
		return "A browser: " + browser + system
	}
	return "A browser that does not say what it is"
}

func firstOf(tokens [][2]string, agent string) string {
	for _, t := range tokens {
		if strings.Contains(agent, t[0]) {
			return t[1]
		}
	}
	return ""
}
