using Knownwater.Uncertainty;

namespace Knownwater.Tests.Uncertainty;

public sealed class SourceIdentityTests
{
    // RFC 9562, appendix A.4: the name www.example.com in the name space of domain names (6ba7b810-9dad-11d1-80b4-00c04fd430c8)
    [Fact]
    public void The_example_of_the_standard_for_version_5() =>
        Assert.Equal(Guid.Parse("2ed6657d-e927-568b-95e1-2665a8aea6a2"), SourceIdentity.Of(Guid.Parse("6ba7b810-9dad-11d1-80b4-00c04fd430c8"), "www.example.com"));

    // python3 -c "import uuid; print(uuid.uuid5(uuid.UUID('0192f000-0000-7000-8000-00000000000a'), 'gain'))"
    [Fact]
    public void Another_implementation_names_the_same_identity() =>
        Assert.Equal(Guid.Parse("b37d7e29-1fde-5837-9400-db906f19f351"), SourceIdentity.Of(Guid.Parse("0192f000-0000-7000-8000-00000000000a"), "gain"));

    [Fact]
    public void Owner_and_role_both_count()
    {
        var (a, b) = (Guid.NewGuid(), Guid.NewGuid());
        Assert.Equal(4, new[] { SourceIdentity.Of(a, "gain"), SourceIdentity.Of(a, "offset"), SourceIdentity.Of(b, "gain"), SourceIdentity.Of(b, "Gain") }.Distinct().Count());
    }

    [Fact]
    public void What_has_no_owner_or_no_role_is_refused()
    {
        Assert.Throws<ArgumentException>("owner", () => SourceIdentity.Of(Guid.Empty, "gain"));
        Assert.Throws<ArgumentException>("role", () => SourceIdentity.Of(Guid.NewGuid(), " "));
    }
}
