module sheaf

go 1.26.0

require (
	github.com/adrg/frontmatter v0.2.0
	github.com/go-fonts/dejavu v0.3.2
	github.com/yuin/goldmark v1.8.7
	go.yaml.in/yaml/v4 v4.0.0
	golang.org/x/image v0.47.0
	golang.org/x/text v0.44.0
)

require (
	github.com/BurntSushi/toml v0.3.1 // indirect
	gopkg.in/yaml.v2 v2.3.0 // indirect
)
