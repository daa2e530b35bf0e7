module underload

go 1.26.0

require (
	github.com/atotto/clipboard v0.1.4
	github.com/ebitengine/oto/v3 v3.5.0-alpha.8
	github.com/hajimehoshi/ebiten/v2 v2.10.0-alpha.13
	github.com/jezek/xgb v1.1.1
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.0.9
	golang.org/x/image v0.48.0
	gonum.org/v1/gonum v0.17.0
	gopkg.in/yaml.v3 v3.0.1
)

require (
	github.com/ebitengine/gomobile v0.0.0-20260211053922-3d992dae95d1 // indirect
	github.com/ebitengine/hideconsole v1.0.0 // indirect
	github.com/ebitengine/purego v0.11.0-alpha.8 // indirect
	github.com/go-text/typesetting v0.3.5-0.20260710134149-0bd3abe5ff89 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/jfreymuth/pulse v0.1.1 // indirect
	github.com/srwiley/rasterx v0.0.0-20220730225603-2ab79fcdd4ef // indirect
	golang.org/x/sync v0.25.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/text v0.44.0 // indirect
)
